//! The faces that everything is set in: all of them are data of the binary, no font of the machine is read.

use krilla::text::Font;
use rustybuzz::ttf_parser::Tag;
use rustybuzz::{Direction, Feature, ShapePlan, script};
use std::collections::HashSet;
use std::sync::LazyLock;

/// A face of the letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Face {
    Regular,
    Semibold,
    Bold,
    Italic,
    /// Stands in for marks that the others lack.
    Fallback,
}

/// The height of capitals above the line, in ems.
pub(crate) const CAPITALS_EM: f32 = 0.645;

/// No letters are joined, so that each is found again in the text.
pub(crate) static FEATURES: LazyLock<[Feature; 2]> =
    LazyLock::new(|| [b"liga", b"clig"].map(|tag| Feature::new(Tag::from_bytes(tag), 0, ..)));

/// What one face is made of.
pub(crate) struct Cut {
    pub(crate) shapes: rustybuzz::Face<'static>,
    /// How Latin letters and digits are shaped; made once, since it takes longer than a word.
    pub(crate) latin: ShapePlan,
    pub(crate) font: Font,
    marks: HashSet<char>,
}

struct Case {
    regular: Cut,
    semibold: Cut,
    bold: Cut,
    italic: Cut,
    fallback: Cut,
}

static CASE: LazyLock<Option<Case>> = LazyLock::new(|| {
    Some(Case {
        regular: Cut::find("LibertinusSerif-Regular")?,
        semibold: Cut::find("LibertinusSerif-Semibold")?,
        bold: Cut::find("LibertinusSerif-Bold")?,
        italic: Cut::find("LibertinusSerif-Italic")?,
        fallback: Cut::find("DejaVuSansMono")?,
    })
});

impl Cut {
    fn find(name: &str) -> Option<Self> {
        let data = typst_assets::fonts().find(|data| {
            rustybuzz::ttf_parser::Face::parse(data, 0)
                .is_ok_and(|face| post_script_name(&face) == Some(name.to_owned()))
        })?;
        let shapes = rustybuzz::Face::from_slice(data, 0)?;
        let mut marks = HashSet::new();
        for table in shapes.tables().cmap.into_iter().flat_map(|cmap| cmap.subtables) {
            if table.is_unicode() {
                table.codepoints(|code| {
                    marks.extend(char::from_u32(code).filter(|_| table.glyph_index(code).is_some()));
                });
            }
        }
        let latin = ShapePlan::new(&shapes, Direction::LeftToRight, Some(script::LATIN), None, FEATURES.as_slice());
        Some(Self { shapes, latin, font: Font::new(data.into(), 0)?, marks })
    }

    pub(crate) fn has(&self, mark: char) -> bool {
        self.marks.contains(&mark)
    }
}

fn post_script_name(face: &rustybuzz::ttf_parser::Face<'_>) -> Option<String> {
    let names = face.names().into_iter();
    names
        .filter(|name| name.name_id == rustybuzz::ttf_parser::name_id::POST_SCRIPT_NAME)
        .find_map(|name| name.to_string())
}

/// One face; none if the data of fonts were broken, which is tested.
pub(crate) fn cut(face: Face) -> Option<&'static Cut> {
    let case = CASE.as_ref()?;
    Some(match face {
        Face::Regular => &case.regular,
        Face::Semibold => &case.semibold,
        Face::Bold => &case.bold,
        Face::Italic => &case.italic,
        Face::Fallback => &case.fallback,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_every_face_is_there() {
        for face in [Face::Regular, Face::Semibold, Face::Bold, Face::Italic, Face::Fallback] {
            let cut = cut(face).unwrap();
            for mark in "Az09 \u{202f}\u{3b1}\u{d7}\u{2212}\u{b7}".chars() {
                assert!(cut.has(mark), "{face:?} lacks {mark:?}");
            }
        }
    }
}
