//! Numeric kernels for load shares: a rigid load in plan on supports that can only push.
//!
//! Plain `f64` in SI units, no wire types and no policy. Everything is per unit of weight unless a name says
//! otherwise: the share of support i is `r_i = R_i / W`, so that `sum r_i = 1` and `sum r_i p_i = g`, with `p_i`
//! the support and `g` the centre of gravity in plan. Compression is positive.
//!
//! * [`geometry`]: points, tolerance, convex hull of the supports.
//! * [`region`]: where the centre of gravity may be; [`domain`]: the same with the weight and the pushes.
//! * [`mod@tipping`]: distance from the expected centre of gravity to the edges about which the load would tip.
//! * [`statics`]: one, two or three supports, where equilibrium alone gives the shares.
//! * [`elastic`]: a rigid body on one-sided springs; [`influence`]: the same while every support stays in contact.
//! * [`mod@envelope`]: the elastic reactions over all tolerances together.
//! * [`bound`]: least and greatest reaction of any equilibrium.
//! * [`girder`]: a continuous elastic beam on supports in line.
//!
//! Callers pass coordinates shifted to the centroid of the supports; the kernels shift again by themselves where
//! digits would be lost. They never panic, for finite or non-finite input.

mod bound;
mod domain;
mod elastic;
mod envelope;
pub(super) mod geometry;
pub(crate) mod girder;
mod influence;
mod principal;
mod region;
mod statics;
mod tipping;

pub(super) use bound::{BoundExtreme, reaction_bounds};
pub(super) use domain::{LoadDomain, PushSpread};
pub(crate) use elastic::equal_springs;
pub(super) use elastic::{Spring, solve};
pub(super) use envelope::{Bearing, Effort, Exactness, Extreme, envelope};
pub(super) use geometry::InputError;
pub(crate) use geometry::Vec2;
pub(super) use influence::{full_contact_influence, own_influence};
pub(super) use region::CentreSpread;
pub(super) use statics::{AffineShare, static_shares};
pub(super) use tipping::{Stance, TippingEdge, tipping};
