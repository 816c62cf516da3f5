//! Words of closed lists as people read them, and texts of users made harmless to a layout.

use ramwright_engine::check::{CheckId, Phase, Scenario, Source, Standing, Status};
use serde::Serialize;
use std::fmt::Write as _;

/// Longer texts of users are cut for reading; the request holds them whole.
const LONGEST: usize = 120;
/// U+2068 and U+2069 keep the direction of a text from changing that of its neighbours.
const ISOLATE: (char, char) = ('\u{2068}', '\u{2069}');

/// Stands where there is nothing to say.
pub(crate) const NONE: &str = "\u{2013}";

/// A text, or the mark of there being none.
pub(crate) fn or_none(text: Option<String>) -> String {
    text.unwrap_or_else(|| NONE.to_owned())
}

/// A word of a closed list as it stands in JSON, with spaces.
pub(crate) fn plain<T: Serialize>(word: &T) -> String {
    crate::cell::word(word).replace('_', " ")
}

pub(crate) fn check(id: CheckId) -> String {
    let mut name = plain(&id);
    if let Some(first) = name.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    name
}

pub(crate) const fn status(status: Status) -> &'static str {
    match status {
        Status::Pass => "pass",
        Status::Caution => "caution",
        Status::NotChecked => "not checked",
        Status::Fail => "FAIL",
    }
}

/// The same for what a page is styled by.
pub(crate) const fn status_class(status: Status) -> &'static str {
    match status {
        Status::Pass => "pass",
        Status::Caution => "caution",
        Status::NotChecked => "not_checked",
        Status::Fail => "fail",
    }
}

pub(crate) const fn scenario(scenario: Scenario) -> &'static str {
    match scenario {
        Scenario::AsPlanned => "as planned",
        Scenario::LoadHeavier => "load heavier than stated",
        Scenario::OneRamLost => "one ram lost",
        Scenario::OnePointLost => "one point lost",
        Scenario::LevelError => "twice the level band",
        Scenario::HorizontalForce => "horizontal force half as much again",
    }
}

pub(crate) const fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::SettingUp => "setting up",
        Phase::Raising => "raising",
        Phase::Pause => "pause",
        Phase::Holding => "holding",
        Phase::Lowering => "lowering",
    }
}

pub(crate) const fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Definition => "definition",
        Standing::Published => "published",
        Standing::Computed => "computed independently",
        Standing::CommonPractice => "common practice, no source",
        Standing::FromMemory => "from memory",
        Standing::Stated => "stated",
    }
}

pub(crate) fn sentence(words: &str) -> String {
    let mut marks = words.chars();
    marks.next().map(|first| first.to_uppercase().collect::<String>() + marks.as_str()).unwrap_or_default()
}

/// A source with its standing, which many a text says already.
pub(crate) fn source(source: &Source) -> String {
    let (text, standing) = (source.text.as_str(), standing(source.standing));
    if text.trim_end_matches(')').ends_with(standing) { text.to_owned() } else { format!("{text} ({standing})") }
}

/// A text that a user gave: cut where it is long, its direction kept to itself, without what cannot be printed.
pub(crate) fn given(text: &str) -> String {
    let mut shown: String = text.chars().take(LONGEST).map(harmless).collect();
    let length = text.chars().count();
    if length > LONGEST {
        // Writing to a string cannot fail.
        let _ = write!(shown, "\u{2026} ({length} characters)");
    }
    if shown.is_ascii() { shown } else { format!("{}{shown}{}", ISOLATE.0, ISOLATE.1) }
}

/// A character as it may stand in any text of a document: what turns the text after it, or is no character at all, is
/// replaced. The words of the engine hold names of users too.
pub fn printable(mark: char) -> char {
    let is_no_character = matches!(mark, '\u{fdd0}'..='\u{fdef}') || u32::from(mark) & 0xfffe == 0xfffe;
    let turns = matches!(mark, '\u{202a}'..='\u{202e}' | '\u{2066}' | '\u{2067}');
    if mark.is_control() || is_no_character || turns { '\u{fffd}' } else { mark }
}

/// A character of a name that can do nothing to the text around it: it cannot end its own isolation either.
pub(crate) fn harmless(mark: char) -> char {
    if matches!(mark, '\u{200e}' | '\u{200f}' | '\u{2066}'..='\u{2069}') { '\u{fffd}' } else { printable(mark) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_a_given_text_is_cut_and_kept_to_itself() {
        assert_eq!(given("P1"), "P1");
        assert_eq!(given("a\0b\tc"), "\u{2068}a\u{fffd}b\u{fffd}c\u{2069}");
        assert_eq!(given("\u{202e}x\u{2069}y"), "\u{2068}\u{fffd}x\u{fffd}y\u{2069}");
        let long = given(&"w".repeat(10_000));
        assert!(long.contains("(10000 characters)") && long.chars().count() < 150, "{long}");
    }

    #[test]
    fn verify_a_source_says_its_standing_once() {
        let practice = "common practice, no source";
        assert_eq!(source(&Source::common_practice(practice)), practice);
        assert_eq!(
            source(&Source::common_practice("a rule (common practice, no source)")),
            "a rule (common practice, no source)"
        );
        assert_eq!(
            source(&Source::stated("load heavier than stated by the yard")),
            "load heavier than stated by the yard (stated)"
        );
    }

    #[test]
    fn verify_checks_have_names() {
        assert_eq!(check(CheckId::JackingPointLimit), "Jacking point limit");
    }
}
