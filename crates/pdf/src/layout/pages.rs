//! From slabs to pages.

use crate::layout::ink::{Border, Entry, Mark, Slab, moved};

/// Heights are reckoned in single precision; so much is no more than that.
const TOLERANCE: f32 = 0.05;

/// What stands between head and foot of a page.
#[derive(Default)]
pub(crate) struct Page {
    pub(crate) marks: Vec<Mark>,
    /// The entries of the outline that lead here, each with its height on the page.
    pub(crate) entries: Vec<(f32, Entry)>,
}

/// Fills pages of a width and height.
struct Filler {
    width: f32,
    height: f32,
    pages: Vec<Page>,
    used: f32,
    /// The gap that the last slab wants below it; none at the top of a page.
    gap: Option<f32>,
    open: Option<(Border, f32)>,
}

/// Sets slabs on pages.
pub(crate) fn paged(slabs: Vec<Slab>, (width, height): (f32, f32)) -> Vec<Page> {
    let mut filler = Filler { width, height, pages: vec![Page::default()], used: 0.0, gap: None, open: None };
    let together = chains(&slabs, height);
    for (slab, together) in slabs.into_iter().zip(together) {
        filler.place(slab, together);
    }
    filler.close();
    filler.pages
}

/// For each slab the height that it needs from its top on, with all that it must not be parted from.
fn chains(slabs: &[Slab], height: f32) -> Vec<f32> {
    let mut chains = vec![0.0; slabs.len()];
    let mut below: Option<(f32, &Slab)> = None;
    for (slab, chain) in slabs.iter().zip(&mut chains).rev() {
        *chain = slab.height;
        if let Some((next, after)) = below.filter(|(_, after)| slab.sticky && !after.breaks) {
            let together = slab.height + slab.below.max(after.above) + next;
            // What is longer than a page cannot be kept together.
            if together <= height {
                *chain = together;
            }
        }
        below = Some((*chain, slab));
    }
    chains
}

impl Filler {
    fn place(&mut self, slab: Slab, together: f32) {
        let border = slab.border;
        if self.open.is_some_and(|(open, _)| Some(open) != border) {
            self.close();
        }
        let inset = border.map_or(0.0, |border| border.inset);
        let opens = if self.open.is_none() { inset } else { 0.0 };
        let gap = self.gap.map_or(0.0, |gap| gap.max(slab.above)) + opens;
        let full = self.height + TOLERANCE < self.used + gap + together + inset;
        if self.gap.is_some() && (slab.breaks || full) {
            self.turn(&slab);
        } else {
            self.used += gap;
        }
        if let Some(border) = border.filter(|_| self.open.is_none()) {
            self.open = Some((border, self.used - border.inset));
        }
        let used = self.used;
        if let Some(page) = self.pages.last_mut() {
            page.entries.extend(slab.entries.into_iter().map(|entry| (used, entry)));
            page.marks.extend(moved(slab.marks, 0.0, used));
        }
        self.used += slab.height;
        self.gap = Some(slab.below);
    }

    /// Begins a page with the head that a slab wants there.
    fn turn(&mut self, slab: &Slab) {
        self.close();
        self.pages.push(Page::default());
        self.used = slab.border.map_or(0.0, |border| border.inset);
        let (Some(head), Some(page)) = (&slab.head, self.pages.last_mut()) else { return };
        page.marks.extend(moved(head.marks.clone(), slab.border.map_or(0.0, |border| border.inset), self.used));
        self.used += head.height;
    }

    /// Draws the frame that is open.
    fn close(&mut self) {
        let (Some((border, top)), Some(page)) = (self.open.take(), self.pages.last_mut()) else { return };
        let bottom = self.used + border.inset;
        page.marks.push(Mark::frame(0.0, top, (self.width, bottom - top), border.pen));
        self.used = bottom;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::ink::Pen;
    use std::rc::Rc;

    fn slab(height: f32) -> Slab {
        let mark = Mark::rule(0.0, 0.0, height, Pen::RULE);
        Slab { height, above: 10.0, below: 10.0, marks: vec![mark], ..Slab::default() }
    }

    fn places(slabs: Vec<Slab>) -> Vec<Vec<f32>> {
        let pages = paged(slabs, (100.0, 100.0));
        pages.into_iter().map(|page| page.marks.iter().map(|mark| mark.y).collect()).collect()
    }

    #[test]
    fn verify_slabs_follow_each_other_until_the_page_is_full() {
        assert_eq!(places(vec![slab(40.0), slab(50.0), slab(20.0)]), [vec![0.0, 50.0], vec![0.0]]);
        assert_eq!(places(vec![slab(300.0), slab(1.0)]), [vec![0.0], vec![0.0]]);
    }

    #[test]
    fn verify_what_belongs_together_is_not_parted() {
        let heading = Slab { sticky: true, ..slab(20.0) };
        assert_eq!(places(vec![slab(40.0), heading.clone(), slab(30.0)]), [vec![0.0], vec![0.0, 30.0]]);
        assert_eq!(places(vec![slab(20.0), heading.clone(), slab(30.0)]), [vec![0.0, 30.0, 60.0]]);
        let longer = vec![slab(20.0), heading.clone(), heading.clone(), heading, slab(30.0)];
        // No page holds all of the four; those below the first stay together.
        assert_eq!(places(longer), [vec![0.0, 30.0], vec![0.0, 30.0, 60.0]]);
    }

    #[test]
    fn verify_a_page_break_breaks_but_never_leaves_an_empty_page() {
        let first = Slab { breaks: true, ..slab(5.0) };
        assert_eq!(places(vec![first.clone(), first]), [vec![0.0], vec![0.0]]);
        assert_eq!(places(Vec::new()), [Vec::<f32>::new()]);
    }

    #[test]
    fn verify_a_head_stands_again_and_a_frame_is_closed_on_every_page() {
        let head = Some(Rc::new(Slab { above: 0.0, ..slab(10.0) }));
        let row = || Slab { head: head.clone(), above: 0.0, below: 0.0, ..slab(60.0) };
        assert_eq!(places(vec![row(), row()]), [vec![0.0], vec![0.0, 10.0]]);
        let border = Some(Border { number: 1, pen: Pen::black(1.0), inset: 5.0 });
        let framed = || Slab { border, above: 0.0, below: 0.0, ..slab(60.0) };
        assert_eq!(places(vec![framed(), framed()]), [vec![5.0, 0.0], vec![5.0, 0.0]]);
    }
}
