//! Packing pieces as they are sent.

use super::bounds::PieceThickness;
use super::entry::{Column, Entry, catalogue_entry, contradiction, shown};
use super::words::Words;
use crate::problem::Fault;
use crate::read::{Faults, Pointer};
use crate::sent::{AnyForce, Gap, MassOfPiece, MemberCount, Name, Number, Rate, Sent, Side, StockCount, Strength};
use crate::wire_words;
use ramwright_engine::catalogue::{Packing, PackingForm, PackingMaterial, PackingUse};
use ramwright_engine::support::{En338Class, NdsSpecies};

wire_words!(PackingMaterial: "steel", "hardwood", "softwood");
wire_words!(PackingForm: "plate", "block", "crib_layer");
wire_words!(PackingUse: "base", "holding", "either");

catalogue_entry! {
    /// A packing piece as it is sent.
    InlinePacking {
        /// Name by which it is chosen.
        id: Name,
        /// What people call it.
        description: Option<Words>,
        /// What it is made of.
        material: PackingMaterial,
        /// Its form.
        form: PackingForm,
        /// Height that it adds, not loaded.
        thickness: PieceThickness,
        /// Length in plan.
        length: Side,
        /// Width in plan.
        width: Side,
        /// Mass of one piece.
        mass: MassOfPiece,
        /// Least loss of height each time it is loaded.
        settlement_least: Gap,
        /// Greatest loss of height each time it is loaded.
        settlement_greatest: Gap,
        /// Force that one piece may carry.
        load_limit: Option<AnyForce>,
        /// Species group in the tables of the NDS, if it is timber.
        nds_species: Option<NdsSpecies>,
        /// Strength class of EN 338, if it is timber.
        en338_class: Option<En338Class>,
        /// Yield strength, if it is steel.
        yield_strength: Option<Strength>,
        /// Members side by side, if it is a crib layer.
        members: Option<MemberCount>,
        /// Width of one member, if it is a crib layer.
        member_width: Option<Side>,
        /// Which stack it may stand in.
        use_ as "use": PackingUse,
        /// How many there are.
        stock: StockCount,
        /// Rate for a day, in the catalogue's currency.
        day_rate: Option<Rate>,
        /// Rate for a week, in the catalogue's currency.
        week_rate: Option<Rate>,
    }
}

impl InlinePacking {
    /// Whether the fields agree with each other; every contradiction is a fault.
    fn agrees(&self, at: &Pointer, faults: &mut Faults) -> bool {
        let found = [self.order_fault(at), self.depth_fault(at), self.members_fault(at)];
        let sound = found.iter().all(Option::is_none);
        found.into_iter().flatten().for_each(|fault| faults.push(fault));
        sound
    }

    fn order_fault(&self, at: &Pointer) -> Option<Fault> {
        let (least, greatest) = (self.settlement_least.measured(), self.settlement_greatest.measured());
        let detail = "the least settlement is not above the greatest";
        (greatest.si() < least.si()).then(|| contradiction(at, "settlement_least", least, shown(greatest), detail))
    }

    fn depth_fault(&self, at: &Pointer) -> Option<Fault> {
        let (thickness, greatest) = (self.thickness.measured(), self.settlement_greatest.measured());
        let detail = "a piece cannot lose its whole thickness";
        (thickness.si() <= greatest.si())
            .then(|| contradiction(at, "settlement_greatest", greatest, shown(thickness), detail))
    }
}

impl InlinePacking {
    /// Members lie side by side within the layer.
    fn members_fault(&self, at: &Pointer) -> Option<Fault> {
        let (members, width) = (self.members.as_ref()?, self.member_width.as_ref()?);
        let side = if self.width.measured().si() < self.length.measured().si() { &self.length } else { &self.width };
        let all = f64::from(members.count()) * width.measured().si();
        let detail = "the members side by side are wider than the layer";
        (side.measured().si() * (1.0 + 1e-9) < all)
            .then(|| contradiction(at, "member_width", width.measured(), shown(side.measured()), detail))
    }
}

impl Entry for InlinePacking {
    type Item = Packing;
    const LIST: &'static str = "packing";
    const COLUMNS: &'static [Column] = Self::COLUMNS;

    fn id(&self) -> &str {
        &self.id.0
    }

    fn item(&self, at: &Pointer, faults: &mut Faults) -> Option<Packing> {
        self.agrees(at, faults).then(|| Packing {
            id: self.id.0.clone(),
            description: self.description.as_ref().map_or_else(String::new, |words| words.0.clone()),
            material: self.material,
            form: self.form,
            thickness: self.thickness.get(),
            length: self.length.get(),
            width: self.width.get(),
            mass: self.mass.get(),
            settlement_least: self.settlement_least.get(),
            settlement_greatest: self.settlement_greatest.get(),
            load_limit: self.load_limit.as_ref().map(Sent::get),
            nds_species: self.nds_species,
            en338_class: self.en338_class,
            yield_strength: self.yield_strength.as_ref().map(Sent::get),
            members: self.members.as_ref().map(Number::count),
            member_width: self.member_width.as_ref().map(Sent::get),
            use_: self.use_,
            stock: self.stock.count(),
            day_rate: self.day_rate.as_ref().map(Number::get),
            week_rate: self.week_rate.as_ref().map(Number::get),
        })
    }
}
