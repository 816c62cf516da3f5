//! Scales of the series of ISO 5455, and what lies where at one of them.

/// So many mm in the world for one on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale {
    /// mm in the world for a mm on the sheet.
    pub(super) one_to: f64,
}

/// The series for one decade.
const SERIES: [f64; 3] = [1.0, 2.0, 5.0];

impl Scale {
    /// The largest scale of the series at which this fits: 10:1 at the most, 1:100 000 at the least.
    pub(super) fn fitting((wide_mm, high_mm): (f64, f64), (room_wide, room_high): (f64, f64)) -> Option<Self> {
        if !(wide_mm.is_finite() && high_mm.is_finite()) || wide_mm.max(high_mm) <= 0.0 {
            return None;
        }
        let needed = (wide_mm / room_wide).max(high_mm / room_high);
        let decades = [0.1, 1.0, 10.0, 100.0, 1000.0, 10_000.0];
        let mut all = decades.iter().flat_map(|decade| SERIES.map(|step| step * decade)).chain([100_000.0]);
        all.find(|one_to| needed <= *one_to * (1.0 + 1e-9)).map(|one_to| Self { one_to })
    }

    /// The scale at which this just fits, for pictures that nobody measures.
    pub(super) fn sketch(size: (f64, f64), (room_wide, room_high): (f64, f64)) -> Option<Self> {
        Self::fitting(size, (room_wide, room_high))?;
        Some(Self { one_to: (size.0 / room_wide).max(size.1 / room_high) })
    }

    /// A length on the sheet.
    pub(super) fn on_sheet(self, real_mm: f64) -> f64 {
        real_mm / self.one_to
    }

    /// As it is written: 1:50, 2:1.
    pub(super) fn words(self) -> String {
        if self.one_to < 0.999 { format!("{:.0}:1", 1.0 / self.one_to) } else { format!("1:{:.0}", self.one_to) }
    }
}
