//! Unit profiles, and the one way in which a quantity is written out.

use serde::{Deserialize, Serialize, Serializer};
use std::cell::Cell;
use utoipa::ToSchema;

/// The units in which an answer is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Profile {
    /// kN, t, mm, bar and their like.
    Metric,
    /// lbf, lb, in, psi and their like.
    Us,
}

thread_local! {
    /// The profile of the `In` being written on this thread. Private: it exists only because `Serialize` takes no context.
    static CURRENT: Cell<Option<Profile>> = const { Cell::new(None) };
}

/// The profile of the enclosing [`In`], if there is one.
pub(crate) fn current() -> Option<Profile> {
    CURRENT.get()
}

/// Puts the former profile back when a scope ends, also when it ends by a panic.
struct Scope(Option<Profile>);

impl Scope {
    fn enter(profile: Profile) -> Self {
        Self(CURRENT.replace(Some(profile)))
    }
}

impl Drop for Scope {
    fn drop(&mut self) {
        CURRENT.set(self.0);
    }
}

/// A value to be serialised with its quantities in the units of a profile.
///
/// Serialising a quantity outside of an `In` is an error, so that no answer can leave in unstated units.
pub struct In<'a, T: ?Sized>(pub Profile, pub &'a T);

impl<T: Serialize + ?Sized> Serialize for In<'_, T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let _scope = Scope::enter(self.0);
        self.1.serialize(serializer)
    }
}
