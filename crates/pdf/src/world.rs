//! All that typst sees: the template, the data, the drawings and the fonts that come with it. Nothing else exists for it.

use crate::data::{Data, figure_path};
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// The font of texts, and of the letters in drawings.
pub(crate) const FAMILY: &str = "Libertinus Serif";

/// What is the same for every document.
struct Constant {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    template: Source,
    data: FileId,
}

static CONSTANT: LazyLock<Option<Constant>> = LazyLock::new(Constant::new);

impl Constant {
    /// None if a name of a file were none, which is tested.
    fn new() -> Option<Self> {
        let fonts: Vec<_> = typst_assets::fonts().flat_map(|data| Font::iter(Bytes::new(data))).collect();
        Some(Self {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            template: Source::new(file_id("/template.typ")?, include_str!("template.typ").to_owned()),
            data: file_id("/data.json")?,
        })
    }
}

/// The fonts that come with typst.
pub(crate) fn fonts() -> &'static [Font] {
    CONSTANT.as_ref().map(|constant| constant.fonts.as_slice()).unwrap_or_default()
}

fn file_id(path: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).ok()?).intern())
}

/// The world of one document.
pub(crate) struct Papers {
    constant: &'static Constant,
    files: Vec<(FileId, Bytes)>,
}

impl Papers {
    pub(crate) fn new(data: Data) -> Option<Self> {
        let constant = CONSTANT.as_ref()?;
        let mut files = vec![(constant.data, Bytes::new(data.json))];
        for (number, svg) in data.figures.into_iter().enumerate() {
            files.push((file_id(&figure_path(number))?, Bytes::from_string(svg)));
        }
        Some(Self { constant, files })
    }
}

impl World for Papers {
    fn library(&self) -> &LazyHash<Library> {
        &self.constant.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.constant.book
    }

    fn main(&self) -> FileId {
        self.constant.template.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main() { Ok(self.constant.template.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let file = self.files.iter().find(|(other, _)| *other == id);
        file.map(|(_, bytes)| bytes.clone()).ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.constant.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
