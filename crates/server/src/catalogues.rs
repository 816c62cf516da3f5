//! Catalogues from folders: read here, made sense of in `ramwright_api`.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use ramwright_api::catalogue::{CatalogueText, Catalogues, parse_catalogue};
use ramwright_api::problem::Fault;

/// The greatest size of a catalogue file, in bytes.
const GREATEST_FILE_BYTES: u64 = 16 * 1024 * 1024;

/// Why the catalogues cannot be loaded.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum CatalogueError {
    /// A folder or file cannot be read.
    #[error("cannot read {path}")]
    Read {
        /// The folder or file.
        path: PathBuf,
        /// The system's reason.
        source: io::Error,
    },
    /// A file is larger than any catalogue.
    #[error("{path} is larger than {GREATEST_FILE_BYTES} bytes")]
    TooLarge {
        /// The file.
        path: PathBuf,
    },
    /// A folder's name is not text.
    #[error("the name of {path} is not UTF-8")]
    Name {
        /// The folder.
        path: PathBuf,
    },
    /// A folder has the name of a catalogue that is there already.
    #[error("there is a catalogue {name} already; give the folder and its catalogue.toml another name")]
    Twice {
        /// The name.
        name: String,
    },
    /// The files of a catalogue have faults.
    #[error("the catalogue {name} has faults:{}", lines(.faults))]
    Faulty {
        /// The catalogue's name.
        name: String,
        /// What is wrong, in the order of the files.
        faults: Vec<Fault>,
    },
}

/// One fault a line, each with its place.
fn lines(faults: &[Fault]) -> String {
    let line = |fault: &Fault| {
        let place = fault.pointer.as_deref().unwrap_or("#");
        let hint = fault.hint.as_ref().map(|hint| format!(" ({hint})")).unwrap_or_default();
        format!("\n  {place}: {}{hint}", fault.detail)
    };
    faults.iter().map(line).collect()
}

/// The built-in catalogue, and one for each folder inside `folder`.
///
/// # Errors
/// [`CatalogueError`] says which file is at fault.
pub fn load(folder: Option<&Path>) -> Result<Catalogues, CatalogueError> {
    let mut catalogues = Catalogues::embedded()
        .map_err(|faults| CatalogueError::Faulty { name: "built into the program".to_owned(), faults })?;
    let Some(folder) = folder.filter(|folder| !folder.as_os_str().is_empty()) else {
        return Ok(catalogues);
    };
    for path in folders(folder)? {
        let text = read_folder(&path)?;
        let catalogue =
            parse_catalogue(&text).map_err(|faults| CatalogueError::Faulty { name: text.name.clone(), faults })?;
        if catalogues.insert(catalogue).is_some() {
            return Err(CatalogueError::Twice { name: text.name });
        }
    }
    Ok(catalogues)
}

/// The folders inside a folder, sorted, so that the first fault is the same every time. Hidden ones are left out:
/// mounted volumes bring such with them.
fn folders(folder: &Path) -> Result<Vec<PathBuf>, CatalogueError> {
    let unreadable = |source| CatalogueError::Read { path: folder.to_owned(), source };
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let entry = entry.map_err(unreadable)?;
        let hidden = entry.file_name().as_encoded_bytes().starts_with(b".");
        if !hidden && entry.path().is_dir() {
            paths.push(entry.path());
        }
    }
    paths.sort();
    Ok(paths)
}

fn read_folder(folder: &Path) -> Result<CatalogueText, CatalogueError> {
    let name = folder.file_name().and_then(|name| name.to_str());
    let name = name.ok_or_else(|| CatalogueError::Name { path: folder.to_owned() })?;
    Ok(CatalogueText {
        name: name.to_owned(),
        toml: read_file(&folder.join("catalogue.toml"))?,
        rams: read_file_if_there(&folder.join("rams.csv"))?,
        pumps: read_file_if_there(&folder.join("pumps.csv"))?,
        hoses: read_file_if_there(&folder.join("hoses.csv"))?,
        packing: read_file_if_there(&folder.join("packing.csv"))?,
    })
}

/// A list that is not there is one without entries.
fn read_file_if_there(path: &Path) -> Result<String, CatalogueError> {
    match read_file(path) {
        Err(CatalogueError::Read { source, .. }) if source.kind() == io::ErrorKind::NotFound => Ok(String::new()),
        outcome => outcome,
    }
}

fn read_file(path: &Path) -> Result<String, CatalogueError> {
    let unreadable = |source| CatalogueError::Read { path: path.to_owned(), source };
    if GREATEST_FILE_BYTES < fs::metadata(path).map_err(unreadable)?.len() {
        return Err(CatalogueError::TooLarge { path: path.to_owned() });
    }
    fs::read_to_string(path).map_err(unreadable)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_the_built_in_catalogue_is_always_there() {
        let catalogues = load(None).unwrap();
        assert_eq!(catalogues.names().collect::<Vec<_>>(), ["demo_yard"]);
        assert_eq!(load(Some(Path::new(""))).unwrap(), catalogues);
    }

    #[test]
    fn verify_folders_are_read_and_faults_are_named_with_their_place() {
        let root = std::env::temp_dir().join(format!("ramwright-catalogues-{}", std::process::id()));
        let folder = root.join("north_yard");
        fs::create_dir_all(&folder).unwrap();
        fs::create_dir_all(root.join(".hidden")).unwrap();
        let missing = load(Some(&root)).unwrap_err();
        let head = "name = \"north_yard\"\ntitle = \"North yard\"\norigin = \"Invented.\"\ncurrency = \"EUR\"\n";
        fs::write(folder.join("catalogue.toml"), head).unwrap();
        let loaded = load(Some(&root));
        fs::write(folder.join("rams.csv"), "id,nonsense\n").unwrap();
        let faulty = load(Some(&root)).unwrap_err();
        fs::remove_dir_all(&root).unwrap();
        assert!(missing.to_string().ends_with("catalogue.toml"), "{missing}");
        assert_eq!(loaded.unwrap().names().collect::<Vec<_>>(), ["demo_yard", "north_yard"]);
        assert!(faulty.to_string().contains("north_yard has faults:\n  #/rams/"), "{faulty}");
    }
}
