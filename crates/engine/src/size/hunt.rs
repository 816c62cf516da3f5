//! The search as it goes: what was found, what was refused, what was passed over.

use super::front::Front;
use super::refusal::{Miss, Misses};
use super::score::Merit;
use super::trial::{Choice, Found, Job, Tried};
use crate::check::CheckId;
use crate::packing_lift::{Cures, PlanBook, Stopped};

/// How far the search has come.
pub(super) struct Hunt<'a> {
    pub(super) job: &'a Job<'a>,
    pub(super) front: Front<Box<Found>>,
    pub(super) misses: Misses,
    /// Sets that were not held against every check, since they could not be listed.
    pub(super) passed_over: u64,
    /// Whether every set that came into question was looked at.
    pub(super) complete: bool,
    book: PlanBook,
}

impl<'a> Hunt<'a> {
    pub(super) fn new(job: &'a Job<'a>) -> Self {
        Self {
            job,
            front: Front::new(job.input.search.options),
            misses: Misses::new(job.input.rams.len()),
            passed_over: 0,
            complete: true,
            book: PlanBook::new(Cures::LeftOut),
        }
    }

    /// One model and one number everywhere: every one of them, the most promising first.
    pub(super) fn uniform(&mut self) -> Result<(), Stopped> {
        let mut sets: Vec<(Merit, Choice)> = Vec::new();
        for ram in 0..self.job.input.rams.len() {
            self.screen(ram, &mut sets);
        }
        sets.sort_by(|(a, one), (b, other)| a.compare(b).then_with(|| one.cmp(other)));
        let points = self.job.input.case.points.len();
        for (bound, choice) in sets {
            if self.job.effort.stopped() {
                return Err(Stopped);
            }
            if self.front.rules_out(&bound) {
                self.pass_over(&[choice]);
            } else {
                self.attempt(&vec![choice; points])?;
            }
        }
        Ok(())
    }

    /// The numbers of a model that carry the load and go under it; the model is refused if there are none.
    ///
    /// The point with the greatest share asks for most capacity and the one with the least clearance for the lowest ram, so
    /// that only these are asked here.
    fn screen(&mut self, ram: usize, sets: &mut Vec<(Merit, Choice)>) {
        let (job, points) = (self.job, self.job.input.case.points.len());
        let mut set = job.set(&vec![(ram, 1); points]);
        let mut holding: Vec<(u32, f64)> = Vec::new();
        for count in (1..=job.input.settings.rams_per_point).rev() {
            set.at_points.iter_mut().for_each(|placed| placed.count = count);
            match job.at_one_point(&set, CheckId::Capacity, job.heaviest) {
                // Fewer carry less.
                Err(miss) => {
                    self.misses.note(miss.of_model(ram, count));
                    break;
                }
                Ok(utilisation) => holding.push((count, utilisation)),
            }
        }
        let Some(&(fewest, _)) = holding.last() else { return };
        if let Err(miss) = job.at_one_point(&set, CheckId::ClosedHeight, job.lowest) {
            self.misses.note(miss.of_model(ram, fewest));
            return;
        }
        let lifts = job.fewest_lifts(&[(ram, fewest)]);
        for (count, utilisation) in holding {
            let bound = job.bound(&vec![(ram, count); points], job.floor, (utilisation, lifts));
            sets.push((bound, (ram, count)));
        }
    }

    /// Holds a set against every check and notes what became of it.
    pub(super) fn attempt(&mut self, choices: &[Choice]) -> Result<(), Stopped> {
        let first = choices.first().copied();
        match self.job.attempt(choices, &self.front, &mut self.book)? {
            Tried::PassedOver => self.pass_over(choices),
            Tried::Found(merit, found) => {
                self.misses.keep(choices);
                self.front.add(merit, found);
            }
            Tried::Refused(refused) => {
                let uniform = choices.iter().all(|choice| Some(*choice) == first);
                if let Some((ram, count)) = first.filter(|_| uniform) {
                    self.misses.note(Miss::of(ram, count, &refused, &self.job.input.case));
                }
            }
        }
        Ok(())
    }

    fn pass_over(&mut self, choices: &[Choice]) {
        self.leave_out(choices, 1);
    }

    /// Passes over so many sets that begin with these choices.
    pub(super) fn leave_out(&mut self, choices: &[Choice], sets: u64) {
        if sets == 0 {
            return;
        }
        self.passed_over = self.passed_over.saturating_add(sets);
        self.misses.keep(choices);
    }
}
