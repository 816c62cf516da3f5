//! What documents say of themselves, as it is sent.

use crate::catalogue::Words;
use crate::wire_struct;

wire_struct! {
    /// What calculation and site sheet say of themselves. Nothing is worked out from it; the service knows no date of its own.
    PapersSent {
        /// Number of the calculation.
        number: Option<Words>,
        /// Its revision.
        revision: Option<Words>,
        /// Its date, as the sender writes dates.
        date: Option<Words>,
        /// The project.
        project: Option<Words>,
        /// The site.
        site: Option<Words>,
        /// What the calculation is for, and what it leaves to others.
        scope: Option<Words>,
    }
}
