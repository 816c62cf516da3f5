//! How wide the columns of a table are: reckoned beforehand, since setting every cell twice takes most of the time.

use crate::layout::words::Weight::{Bold, Regular};
use crate::layout::words::{longest_word_em, width_em};

/// No column asks for more than this at least; longer words break.
const LONGEST_WORD_EM: f32 = 9.0;
/// Numbers are not to wrap unless they are longer than this, as a range is.
const LONGEST_NUMBER_EM: f32 = 5.2;
/// Nor for more than this at most; longer texts wrap.
const WIDEST_EM: f32 = 60.0;
/// A column of empty cells is written in by hand.
const BY_HAND_EM: f32 = 5.0;
/// A text wraps into so many lines rather than more, as long as there is room.
const FEW_LINES: f32 = 4.0;
/// The margins of a cell, both together.
pub(crate) const MARGINS_EM: f32 = 0.9;
/// No table is set smaller than this; its words break instead.
const SMALLEST: f32 = 0.75;

/// What a column asks for, in ems.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Wish {
    least: f32,
    most: f32,
}

impl Wish {
    fn take(&mut self, most: f32, least: f32) {
        self.least = self.least.max(least.min(LONGEST_WORD_EM) + MARGINS_EM);
        self.most = self.most.max(most.min(WIDEST_EM) + MARGINS_EM).max(self.least);
    }
}

/// A column: its head, and whether it holds numbers.
pub(crate) struct Head<'a> {
    pub(crate) text: &'a str,
    pub(crate) numbers: bool,
}

/// How a table is set.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Measures {
    /// The size of its letters against those of other tables.
    pub(crate) scale: f32,
    /// The widths of its columns in ems of its own letters; together they take up the room.
    pub(crate) widths_em: Vec<f32>,
}

/// The measures of a table in a room of so many ems.
pub(crate) fn measures(heads: &[Head<'_>], rows: &[Vec<&str>], room_em: f32) -> Measures {
    let wishes: Vec<_> = heads.iter().enumerate().map(|(index, head)| wish(index, head, rows)).collect();
    let least: f32 = wishes.iter().map(|wish| wish.least).sum();
    let most: f32 = wishes.iter().map(|wish| wish.most).sum();
    let scale = if room_em < least { (room_em / least).max(SMALLEST) } else { 1.0 };
    let room = room_em / scale;
    let width = |wish: &Wish| {
        if room <= least {
            wish.least * room / least
        } else if most <= room {
            wish.most * room / most
        } else {
            wish.least + (wish.most - wish.least) * (room - least) / (most - least)
        }
    };
    Measures { scale, widths_em: wishes.iter().map(width).collect() }
}

fn wish(index: usize, head: &Head<'_>, rows: &[Vec<&str>]) -> Wish {
    let mut wish = Wish::default();
    wish.take(width_em(head.text, Bold), longest_word_em(head.text, Bold));
    let mut empty = true;
    for cell in rows.iter().filter_map(|row| row.get(index)) {
        empty &= cell.is_empty();
        let most = width_em(cell, Regular);
        let together = if head.numbers { most.min(LONGEST_NUMBER_EM) } else { most / FEW_LINES };
        wish.take(most, longest_word_em(cell, Regular).max(together));
    }
    if empty && !rows.is_empty() {
        wish.take(BY_HAND_EM, BY_HAND_EM);
    }
    wish
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(texts: &[&str], room_em: f32) -> Measures {
        let heads: Vec<_> = texts.iter().map(|_| Head { text: "", numbers: false }).collect();
        measures(&heads, &[texts.to_vec()], room_em)
    }

    #[test]
    fn verify_the_room_is_used_up() {
        let long = "word ".repeat(200);
        let word = "w".repeat(200);
        for texts in [vec!["a", "b"], vec!["a", &long], vec![&word, &word, &word, &word, &word, &word]] {
            let Measures { scale, widths_em } = of(&texts, 40.0);
            let sum: f32 = widths_em.iter().sum();
            assert!((sum * scale - 40.0).abs() < 1e-3, "{sum} {scale}");
        }
        assert!(of(&[], 40.0).widths_em.is_empty());
    }

    #[test]
    fn verify_long_texts_get_more_and_short_ones_stay_whole() {
        let long = "word ".repeat(200);
        let widths = of(&["capacity", &long], 40.0).widths_em;
        assert!(width_em("capacity", Regular) + MARGINS_EM <= widths[0] && widths[0] < widths[1]);
    }

    #[test]
    fn verify_many_columns_are_set_smaller_before_words_break() {
        let Measures { scale, widths_em } = of(&["utilisation"; 8], 40.0);
        assert!((SMALLEST..1.0).contains(&scale));
        assert!(widths_em.iter().all(|width| width_em("utilisation", Regular) + MARGINS_EM <= width + 1e-4));
    }

    #[test]
    fn verify_empty_cells_leave_room_to_write() {
        let widths = of(&["", &"word ".repeat(200)], 40.0).widths_em;
        assert!(BY_HAND_EM <= widths[0]);
    }
}
