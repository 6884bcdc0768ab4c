//! A place pointed at, in words: what it is and how it fails.

use super::list;
use crate::capacity::BeamShear;
use crate::fitting::Spot;
use crate::glossary::Figure;
use crate::model::{Column, Model, Panel, PanelOrigin};
use crate::place::Place;
use crate::project::{Building, Direction};
use crate::study::{Corner, DirectionResult, Failure, MemberResult, OptionResult};
use crate::units::{Dimension, System, number, show};

/// Something known of the place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// What.
    pub label: &'static str,
    /// Its value, with its unit.
    pub text: String,
    /// The entry of the glossary behind it.
    pub figure: Option<Figure>,
}

/// How a part of the place fails.
#[derive(Clone, Debug, PartialEq)]
pub struct Failing {
    /// The part: a direction or a member.
    pub what: String,
    /// What gives.
    pub gives: String,
    /// Its strength.
    pub strength: String,
    /// What it carries under the elastic demand.
    pub demand: String,
    /// The storey drift it bears.
    pub drift: String,
}

/// A way of failing with its strengths.
#[derive(Clone, Debug, PartialEq)]
pub struct WayRow {
    /// The way.
    pub label: &'static str,
    /// Its strength under each head, and whether it is the least there.
    pub cells: Vec<(String, bool)>,
}

/// The strengths of a column or wall one by one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WayWords {
    /// The directions told.
    pub heads: Vec<&'static str>,
    /// Way by way.
    pub rows: Vec<WayRow>,
}

/// The corners of a column's line of shear over drift.
#[derive(Clone, Debug, PartialEq)]
pub struct BackboneWords {
    /// The direction.
    pub what: String,
    /// Storey drift at which it has its strength, up to which it keeps it, by which it has lost it, with what is left, and
    /// at which it loses its axial load.
    pub corners: [String; 4],
}

/// A place in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SpotWords {
    /// Its name.
    pub name: String,
    /// What it is.
    pub facts: Vec<Fact>,
    /// How its parts fail.
    pub failing: Vec<Failing>,
    /// Of a column or wall, its strengths one by one.
    pub ways: WayWords,
    /// Of a column, its line of shear over drift each way.
    pub backbones: Vec<BackboneWords>,
    /// What deserves a sentence.
    pub notes: Vec<String>,
}

/// Puts a place of an option into words; strengths only where there is a result.
pub fn spot(
    spot: Spot,
    building: &Building,
    model: &Model,
    option: Option<&OptionResult>,
    system: System,
) -> SpotWords {
    let mut words = Teller { building, model, option, system, words: SpotWords::default() };
    words.words.name = spot.name(&model.x_lines, &model.y_lines);
    match spot {
        Spot::Column { x, y, storey } => words.column(x, y, storey),
        Spot::Bay { direction, line, bay, storey } => words.bay(direction, line, bay, storey),
        Spot::Line { direction, line } => words.line(direction, line),
        Spot::Storey { storey } => words.storey(storey),
    }
    words.words
}

/// Ways of failing as the panel lists them, those of columns first.
const WAYS: [(&str, &[Failure]); 9] = [
    ("Bending", &[Failure::Flexure]),
    ("Bending, bar laps slipping", &[Failure::Splice]),
    ("Bending its joint and beams allow", &[Failure::Joint, Failure::Beam, Failure::BeamShear]),
    ("Shear", &[Failure::Shear]),
    ("Shear of the panel", &[Failure::WallShear]),
    ("Bending at the base", &[Failure::WallFlexure]),
    ("Rocking on the footing", &[Failure::Rocking]),
    ("Bars round it", &[Failure::Perimeter]),
    ("Sliding on the footing", &[Failure::Sliding]),
];

struct Teller<'a> {
    building: &'a Building,
    model: &'a Model,
    option: Option<&'a OptionResult>,
    system: System,
    words: SpotWords,
}

impl Teller<'_> {
    fn fact(&mut self, label: &'static str, text: String, figure: Option<Figure>) {
        self.words.facts.push(Fact { label, text, figure });
    }

    fn mm(&self, value: f64) -> String {
        show(value, Dimension::Millimetres, self.system)
    }

    /// A nominal size, without noughts behind the point.
    fn size(&self, value_mm: f64) -> String {
        let shown = self.mm(value_mm);
        match shown.split_once('\u{a0}') {
            Some((figure, unit)) if figure.contains('.') => {
                format!("{}\u{a0}{unit}", figure.trim_end_matches('0').trim_end_matches('.'))
            }
            _ => shown,
        }
    }

    fn m(&self, value: f64) -> String {
        show(value, Dimension::Metres, self.system)
    }

    fn kn(&self, value: f64) -> String {
        show(value, Dimension::Kilonewtons, self.system)
    }

    /// A force without its unit.
    fn force(&self, value: f64) -> String {
        number(value, Dimension::Kilonewtons, self.system)
    }

    /// Two sizes with one unit.
    fn by(&self, one_mm: f64, other_mm: f64) -> String {
        format!("{} × {}", number(one_mm, Dimension::Millimetres, self.system), self.mm(other_mm))
    }

    fn result(&self, direction: Direction) -> Option<&DirectionResult> {
        self.option?.directions.iter().find(|own| own.along_x == (direction == Direction::X))
    }

    fn member(&self, direction: Direction, storey: u32, place: &Place) -> Option<MemberResult> {
        let row = self.result(direction)?.storeys.get(storey as usize - 1)?;
        row.members.iter().find(|member| member.place == *place).cloned()
    }

    fn failing(&mut self, what: String, storey: u32, member: &MemberResult) {
        let height_mm = 1000.0 * self.model.floors[storey as usize - 1].height_m;
        let row = Failing {
            what,
            gives: member.failure.gives().to_owned(),
            strength: self.kn(member.strength_kn),
            demand: self.kn(member.shear_kn.abs()),
            drift: self.drift(member.limit_drift_mm, height_mm),
        };
        self.words.failing.push(row);
    }

    /// A drift as a length and as a part of the storey height.
    fn drift(&self, drift_mm: f64, height_mm: f64) -> String {
        let share = show(drift_mm / height_mm, Dimension::Share, self.system);
        format!("{} ({share})", self.mm(drift_mm))
    }

    fn column(&mut self, x: usize, y: usize, storey: u32) {
        let model = self.model;
        let Some(column) = model.column_on(Direction::X, y, x, storey) else {
            self.words.notes.push("No column stands at this crossing.".to_owned());
            return;
        };
        self.column_facts(column);
        let place = model.column_place(column);
        let mut found = Vec::new();
        for direction in Direction::BOTH {
            let what = direction.label();
            let (line, end) = if direction == Direction::X { (y, x) } else { (x, y) };
            match self.member(direction, storey, &place) {
                Some(member) => {
                    self.failing(what.to_owned(), storey, &member);
                    self.captive(column, direction, &member);
                    self.backbone(what, &member);
                    self.doubtful_shear(what, &member);
                    found.push((what, member));
                }
                None if [end as u32, end as u32 + 1]
                    .into_iter()
                    .any(|bay| self.panel(direction, line, bay, storey).is_some()) =>
                {
                    let name = &model.lines(direction)[line].name;
                    self.words.notes.push(format!("{} it is the edge of a wall on line {name}.", capital(what)));
                }
                None => {}
            }
        }
        self.ways(&found);
        self.axial_range(&found);
        self.against_beams(&found);
        self.beams_in_shear(x, y, storey);
    }

    /// A beam of a direction in shear, with both ends at their strengths.
    fn beam(&self, direction: Direction, place: &Place) -> Option<BeamShear> {
        self.result(direction)?.beams.iter().find(|beam| beam.place == *place).cloned()
    }

    /// Says which beams over a column shear before both their ends bend.
    fn beams_in_shear(&mut self, x: usize, y: usize, storey: u32) {
        for direction in Direction::BOTH {
            let (line, end) = if direction == Direction::X { (y, x) } else { (x, y) };
            let name = self.model.lines(direction)[line].name.clone();
            let bays = [end as u32, end as u32 + 1];
            let weak = bays
                .into_iter()
                .filter_map(|bay| self.beam(direction, &Place::Beam { line: name.clone(), bay, storey }))
                .filter(|beam| beam.sway_kn().is_some());
            // The worse of the two on its sides.
            let Some(beam) = weak.max_by(|one, other| one.ratio().total_cmp(&other.ratio())) else { continue };
            let [asked, strength] = [beam.bends_kn + beam.gravity_kn, beam.strength_kn].map(|value| self.kn(value));
            let words = format!(
                "{} a beam over it shears at {strength}, before the {asked} it has when both its ends bend.",
                capital(direction.label())
            );
            self.words.notes.push(words);
        }
    }

    fn column_facts(&mut self, column: &Column) {
        let kind = &column.kind;
        self.fact("Section", self.by(kind.x_mm, kind.y_mm), None);
        self.fact("Bars", format!("{} of {}", kind.bars, self.size(kind.bar_mm)), None);
        let hoops = format!(
            "{} every {}, {} hooks",
            self.size(kind.hoop_mm),
            self.size(kind.hoop_spacing_mm),
            kind.hooks.label()
        );
        self.fact("Hoops", hoops, None);
        if let Some(lap) = kind.lap_mm {
            self.fact("Lap above the floor", self.mm(lap), None);
        }
        if let Some(jacket) = &column.jacket {
            let words = format!(
                "{} {}, {} bars of {}",
                self.size(jacket.thickness_mm),
                if jacket.closed() { "all round".to_owned() } else { format!("on {}", jacket.faces.label()) },
                jacket.bars,
                self.size(jacket.bar_mm)
            );
            self.fact("Jacket", words, None);
        }
        if let Some(wings) = &column.wings {
            let sides = [wings.lower_mm, wings.higher_mm].into_iter().filter(|length| *length > 0.0).count();
            let size = self.by(wings.spec.length_mm, wings.spec.thickness_mm);
            let side = if sides == 2 { "both sides" } else { "one side" };
            self.fact("Wing walls", format!("{size} on {side} {}", wings.spec.direction.label()), None);
        }
        let clear = Direction::BOTH.map(|direction| self.m(self.model.clear_height_m(column, direction)));
        let clear =
            if clear[0] == clear[1] { clear[0].clone() } else { format!("{} along x, {} along y", clear[0], clear[1]) };
        self.fact("Clear height", clear, None);
        let share = column.axial_kn * 1000.0 / (kind.x_mm * kind.y_mm * self.building.materials.concrete_mpa);
        let share = show(share, Dimension::Number, self.system);
        self.fact("Gravity load", format!("{}, {share} of A·f′c", self.kn(column.axial_kn)), Some(Figure::AxialRatio));
        let beside = self.beside(column);
        if !beside.is_empty() {
            self.fact("Beside it", list(&beside), None);
        }
    }

    /// Masonry and walls beside a column.
    fn beside(&self, column: &Column) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for direction in Direction::BOTH {
            let (line, end) = match direction {
                Direction::X => (column.iy, column.ix as u32),
                Direction::Y => (column.ix, column.iy as u32),
            };
            for bay in [end, end + 1].into_iter().filter(|bay| *bay > 0) {
                let words = match (
                    self.panel(direction, line, bay, column.storey),
                    self.masonry(direction, line, bay, column.storey),
                ) {
                    (Some(_), _) => "a concrete wall".to_owned(),
                    (None, Some(Some(sill))) => format!("a sill wall of {}", self.m(sill)),
                    (None, Some(None)) => "masonry of full height".to_owned(),
                    (None, None) => continue,
                };
                let words = format!("{words} {}", direction.label());
                if !all.contains(&words) {
                    all.push(words);
                }
            }
        }
        all
    }

    /// Says that a sill holds a column short, or that it was cut free.
    fn captive(&mut self, column: &Column, direction: Direction, member: &MemberResult) {
        let index = direction.index();
        let way = direction.label();
        if let Some(gap) = column.gap_mm[index] {
            let gap = self.size(gap);
            self.words.notes.push(format!(
                "The sill beside it is cut free {way} with a gap of {gap}, so its full height can bend."
            ));
        } else if column.sill_m[index] > 0.0 {
            let (sill, free) = (self.m(column.sill_m[index]), self.m(self.model.clear_height_m(column, direction)));
            let whole = self.m(self.model.clear_height_m(column, direction) + column.sill_m[index]);
            self.words.notes.push(format!(
                "A captive column {way}: a sill wall holds it up to {sill}, so only {free} of its {whole} can bend. It is \
                 stiffer than its neighbours, draws more force and {} at a small drift.",
                member.failure.gives()
            ));
        }
        if member.failure == Failure::Shear {
            let [shear, bending] = [member.shear_capacity_kn, member.flexural_kn].map(|value| self.kn(value));
            self.words
                .notes
                .push(format!("{} it shears at {shear}, before the {bending} at which it would bend.", capital(way)));
        }
    }

    /// The strengths of a column or wall one by one.
    fn ways(&mut self, members: &[(&'static str, MemberResult)]) {
        let least = |own: &MemberResult, reached_kn: f64| reached_kn <= (1.0 + 1e-9) * own.strength_kn;
        let mut rows: Vec<WayRow> = Vec::new();
        for (label, failures) in WAYS {
            let found = |own: &MemberResult| own.ways.iter().find(|way| failures.contains(&way.failure)).copied();
            if !members.iter().any(|(_, own)| found(own).is_some()) {
                continue;
            }
            let cell = |own: &MemberResult| {
                let Some(way) = found(own) else { return ("not less".to_owned(), false) };
                let what = match way.failure {
                    Failure::Joint => ", joint",
                    Failure::Beam => ", beams",
                    Failure::BeamShear => ", beams in shear",
                    _ => "",
                };
                (format!("{}{what}", self.kn(way.reached_kn)), least(own, way.reached_kn))
            };
            rows.push(WayRow { label, cells: members.iter().map(|(_, own)| cell(own)).collect() });
        }
        // Where shear is checked with the strengths it is counted with, that says nothing more.
        let lower =
            |own: &MemberResult| own.checked_shear_kn.filter(|shear| *shear < (1.0 - 1e-9) * own.shear_capacity_kn);
        if members.iter().any(|(_, own)| lower(own).is_some()) {
            let cell = |own: &MemberResult| (lower(own).map_or_else(|| "–".to_owned(), |shear| self.kn(shear)), false);
            rows.push(WayRow {
                label: "Shear, lower strengths",
                cells: members.iter().map(|(_, own)| cell(own)).collect(),
            });
        }
        if !rows.is_empty() {
            self.words.ways = WayWords { heads: members.iter().map(|(head, _)| *head).collect(), rows };
        }
    }

    /// What axial force it has as its frames sway, each way.
    fn axial_range(&mut self, members: &[(&'static str, MemberResult)]) {
        let words: Vec<String> = members
            .iter()
            .filter_map(|(way, own)| {
                let [least, most] = own.axial_range_kn()?;
                Some(format!("{} to {} {way}", self.force(least), self.kn(most)))
            })
            .collect();
        if !words.is_empty() {
            self.fact("Load when pushed over", words.join(", "), Some(Figure::AxialRange));
        }
        for (way, own) in members {
            if own.axial_range_kn().is_some_and(|[least, _]| least < 0.0) {
                self.words.notes.push(format!("Pushed over {way}, the beams above may lift it: its bars then pull."));
            }
        }
    }

    /// Columns against beams at the joint over it, each way.
    fn against_beams(&mut self, members: &[(&'static str, MemberResult)]) {
        let ratios: Vec<(&str, f64)> = members.iter().filter_map(|(way, own)| Some((*way, own.joint_ratio?))).collect();
        let words: Vec<String> = ratios
            .iter()
            .map(|(way, ratio)| format!("{} {way}", show(*ratio, Dimension::Number, self.system)))
            .collect();
        if !words.is_empty() {
            self.fact("Columns over beams", words.join(", "), Some(Figure::ColumnsOverBeams));
        }
        for (way, _) in ratios.iter().filter(|(_, ratio)| *ratio < 1.0) {
            self.words.notes.push(format!("At the joint over it the columns yield before the beams {way}."));
        }
    }

    /// Shear as it is checked, where that is less than what bending brings.
    fn doubtful_shear(&mut self, way: &str, member: &MemberResult) {
        let checked = member.checked_shear_kn.filter(|shear| *shear < member.flexural_kn);
        if let (Some(shear), true) = (checked, member.failure != Failure::Shear) {
            let [shear, bending] = [shear, member.flexural_kn].map(|value| self.kn(value));
            let words = format!(
                "With the lower strengths shear is checked with it shears at {shear} {way}, before the {bending} at which \
                 it bends: find out more of its concrete and hoops before counting on bending."
            );
            self.words.notes.push(words);
        }
    }

    /// A column's line of shear over drift, corner by corner.
    fn backbone(&mut self, way: &str, member: &MemberResult) {
        let Some(line) = member.backbone else { return };
        let at = |corner: Corner| self.mm(corner.drift_mm);
        let corners = [
            at(line.yields),
            at(line.capping),
            format!("{}, {} left", at(line.lateral_loss), self.kn(line.lateral_loss.shear_kn)),
            line.axial_loss.map_or_else(|| "–".to_owned(), at),
        ];
        self.words.backbones.push(BackboneWords { what: way.to_owned(), corners });
    }

    fn panel(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<&Panel> {
        self.model.panel_at(direction, line, bay, storey)
    }

    /// Masonry in a bay: its sill height, m, or none for full height.
    fn masonry(&self, direction: Direction, line: usize, bay: u32, storey: u32) -> Option<Option<f64>> {
        let found = self
            .model
            .masonry
            .iter()
            .find(|own| (own.direction, own.line, own.bay, own.storey) == (direction, line, bay, storey))?;
        Some(found.kind.sill_mm.map(|sill| sill / 1000.0))
    }

    fn bay(&mut self, direction: Direction, line: usize, bay: u32, storey: u32) {
        let model = self.model;
        if model.bay_columns(direction, line, bay, storey).is_none() {
            self.words.notes.push("No columns stand at both ends of this bay.".to_owned());
            return;
        }
        self.fact("Between lines", self.m(model.bay_length_m(direction, bay)), None);
        let [length, height] = model.clear_opening_m(direction, line, bay, storey);
        self.fact(
            "Clear opening",
            format!("{} × {}", number(length, Dimension::Metres, self.system), self.m(height)),
            None,
        );
        match model.beam_at(direction, line, bay, storey) {
            Some(beam) => {
                let kind = &beam.kind;
                self.fact("Beam over it", self.by(kind.width_mm, kind.depth_mm), None);
                let bars = format!(
                    "{} of {} on top, {} of {} below",
                    kind.top_bars,
                    self.size(kind.top_bar_mm),
                    kind.bottom_bars,
                    self.size(kind.bottom_bar_mm)
                );
                self.fact("Bars of the beam", bars, None);
            }
            None => self.fact("Beam over it", "none".to_owned(), None),
        }
        let name = model.lines(direction)[line].name.clone();
        if let Some(beam) = self.beam(direction, &Place::Beam { line: name, bay, storey }) {
            let [bends, gravity, strength] = [beam.bends_kn, beam.gravity_kn, beam.strength_kn];
            let strength = self.kn(strength);
            let sum = format!("{} swaying + {} gravity, of {strength}", self.force(bends), self.force(gravity));
            self.fact("Shear of the beam", sum, Some(Figure::BeamShear));
            if beam.sway_kn().is_some() {
                self.words.notes.push(
                    "The beam shears before both its ends bend: it brings the columns less moment, loses its strength \
                     soon after and may drop the floor it carries."
                        .to_owned(),
                );
            }
        }
        self.bay_filling(direction, line, bay, storey);
        self.wall_row(direction, line, bay, storey);
        let ends: Vec<Place> = model
            .bay_columns(direction, line, bay, storey)
            .into_iter()
            .flatten()
            .map(|column| model.column_place(column))
            .collect();
        for place in ends {
            if let (Some(member), Place::Column { x, y, .. }) = (self.member(direction, storey, &place), &place) {
                self.failing(format!("column {y}-{x}"), storey, &member);
            }
        }
    }

    /// What stands in a bay.
    fn bay_filling(&mut self, direction: Direction, line: usize, bay: u32, storey: u32) {
        if let Some(panel) = self.panel(direction, line, bay, storey) {
            let label = match panel.origin {
                PanelOrigin::Existing(_) => "Concrete wall",
                PanelOrigin::Infill(_) => "Infill wall",
            };
            let hole = panel.opening.as_ref().map(|opening| (opening.width_mm, opening.height_mm));
            let thick = self.size(panel.thickness_mm);
            let hole = hole.map_or(String::new(), |(width, height)| format!(", opening {}", self.by(width, height)));
            self.fact(label, format!("{thick} thick{hole}"), None);
            return;
        }
        let found = self
            .model
            .masonry
            .iter()
            .find(|own| (own.direction, own.line, own.bay, own.storey) == (direction, line, bay, storey));
        match found.map(|own| (own.kind.thickness_mm, own.kind.sill_mm)) {
            Some((thick, Some(sill))) => {
                let words = format!("{} thick, {} high", self.mm(thick), self.mm(sill));
                self.fact("Sill wall", words, None);
            }
            Some((thick, None)) => {
                let words = format!("{} thick, full height", self.mm(thick));
                self.fact("Masonry", words, None);
            }
            None => self.fact("In the bay", "nothing, it is open".to_owned(), None),
        }
    }

    /// Strength of the wall or masonry in a bay; walls of bays side by side act as one.
    fn wall_row(&mut self, direction: Direction, line: usize, bay: u32, storey: u32) {
        let model = self.model;
        let is_wall = self.panel(direction, line, bay, storey).is_some();
        let mut first = bay;
        while is_wall && first > 1 && self.panel(direction, line, first - 1, storey).is_some() {
            first -= 1;
        }
        let found = (first..=bay)
            .find_map(|bay| self.member(direction, storey, &model.panel_place(direction, line, bay, storey)));
        if let Some(member) = found {
            self.failing(if is_wall { "wall" } else { "masonry" }.to_owned(), storey, &member);
            self.ways(&[("wall", member)]);
        }
    }

    fn line(&mut self, direction: Direction, line: usize) {
        let model = self.model;
        let along = model.along(direction);
        let (Some(first), Some(last)) = (along.first(), along.last()) else { return };
        self.fact("Runs", direction.label().to_owned(), None);
        self.fact("Length", format!("{} in {} bays", self.m(last.at_m - first.at_m), along.len() - 1), None);
        let own = |of: Direction, place: usize| (of, place) == (direction, line);
        let columns = model.columns.iter().filter(|column| {
            own(Direction::X, column.iy) && direction == Direction::X
                || own(Direction::Y, column.ix) && direction == Direction::Y
        });
        let lowest = columns.filter(|column| column.storey == 1).count();
        let walls = model.panels.iter().filter(|panel| own(panel.direction, panel.line) && panel.storey == 1).count();
        let masonry = model.masonry.iter().filter(|panel| own(panel.direction, panel.line) && panel.storey == 1);
        let (sills, full): (Vec<_>, Vec<_>) = masonry.partition(|panel| panel.kind.sill_mm.is_some());
        let stands: Vec<String> = [
            (lowest, "column", "columns"),
            (walls, "concrete wall", "concrete walls"),
            (sills.len(), "sill wall", "sill walls"),
            (full.len(), "masonry panel", "masonry panels"),
        ]
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, one, many)| format!("{count} {}", if count == 1 { one } else { many }))
        .collect();
        self.fact("Stands in storey 1", if stands.is_empty() { "nothing".to_owned() } else { list(&stands) }, None);
        let frames: Vec<String> = model
            .frames
            .iter()
            .filter(|frame| own(frame.direction, frame.line))
            .map(|frame| format!("an external frame of {} bays, storeys 1–{}", frame.along_m.len() - 1, frame.storeys))
            .collect();
        if !frames.is_empty() {
            self.fact("Before it", list(&frames), None);
        }
        self.line_rows(direction, line);
    }

    /// How the members of a line fail, storey by storey from the ground.
    fn line_rows(&mut self, direction: Direction, line: usize) {
        let name = self.model.lines(direction)[line].name.clone();
        let Some(result) = self.result(direction) else { return };
        let shears = result.lines.iter().find(|own| !own.external && own.name == name).map(|own| own.shear_kn.clone());
        let mut rows = Vec::new();
        for (at, storey) in result.storeys.iter().enumerate() {
            let members: Vec<&MemberResult> = storey
                .members
                .iter()
                .filter(|member| member.line == name && !matches!(member.place, Place::FrameColumn { .. }))
                .collect();
            let mut ways: Vec<(&str, usize)> = Vec::new();
            for member in &members {
                let way = member.failure.label();
                match ways.iter_mut().find(|(own, _)| *own == way) {
                    Some((_, count)) => *count += 1,
                    None => ways.push((way, 1)),
                }
            }
            let Some(least) = members.iter().map(|own| own.limit_drift_mm).min_by(f64::total_cmp) else { continue };
            let ways: Vec<String> = ways.into_iter().map(|(way, count)| format!("{way} ({count})")).collect();
            let height_mm = 1000.0 * self.model.floors[at].height_m;
            rows.push(Failing {
                what: format!("storey {}", storey.storey),
                gives: ways.join(", "),
                strength: self.kn(members.iter().map(|own| own.strength_kn).sum()),
                demand: shears
                    .as_ref()
                    .and_then(|own| own.get(at))
                    .map_or_else(|| "–".to_owned(), |own| self.kn(own.abs())),
                drift: self.drift(least, height_mm),
            });
        }
        if !rows.is_empty() {
            self.words.notes.push(
                "Strength is the plain sum of its members; the drift is that of the first to be lost.".to_owned(),
            );
        }
        self.words.failing = rows;
        self.frame_rows(direction, line);
    }

    /// The external frame before a face, storey by storey.
    fn frame_rows(&mut self, direction: Direction, line: usize) {
        let face = self.model.lines(direction)[line].name.clone();
        let Some(result) = self.result(direction) else { return };
        let is_own = |own: &&MemberResult| matches!(&own.place, Place::FrameColumn { face: own, .. } if *own == face);
        let found: Vec<(u32, MemberResult)> = result
            .storeys
            .iter()
            .flat_map(|storey| storey.members.iter().filter(is_own).map(|own| (storey.storey, own.clone())))
            .collect();
        if found.is_empty() {
            return;
        }
        let capacity = result.capacity.as_ref().filter(|own| own.governing().point.reached);
        let drifts = capacity.and_then(|own| own.at_demand()).map(|point| point.drift_mm);
        let ratios = found.iter().filter_map(|(_, own)| own.joint_ratio);
        if let Some(least) = ratios.reduce(f64::min) {
            let text = format!("{} of the external frame", show(least, Dimension::Number, self.system));
            self.fact("Columns over beams", text, Some(Figure::ColumnsOverBeams));
        }
        let shares =
            drifts.iter().flatten().zip(&self.model.floors).map(|(mm, floor)| (mm / (1000.0 * floor.height_m)).abs());
        if let Some((at, share)) = shares.enumerate().reduce(|most, next| if next.1 > most.1 { next } else { most }) {
            let text = format!("{} of its height, in storey {}", show(share, Dimension::Share, self.system), at + 1);
            self.fact("Largest storey drift", text, Some(Figure::PerformancePoint));
        }
        for (storey, own) in &found {
            self.failing(format!("frame, storey {storey}"), *storey, own);
        }
        self.words.notes.push("Rows “frame” are of the external frame before the line.".to_owned());
    }

    fn storey(&mut self, storey: u32) {
        let at = storey as usize - 1;
        let Some(floor) = self.model.floors.get(at) else { return };
        let (height, area, weight) = (floor.height_m, floor.area_m2, floor.weight_kn);
        self.fact("Height", self.m(height), None);
        self.fact("Floor over it", show(area, Dimension::SquareMetres, self.system), None);
        self.fact("Weight of that floor", self.kn(weight), Some(Figure::SeismicWeight));
        let count = self.model.columns.iter().filter(|column| column.storey == storey).count();
        self.fact("Columns", count.to_string(), None);
        let Some(option) = self.option else { return };
        let mut rows = Vec::new();
        let mut notes = Vec::new();
        for result in &option.directions {
            let way = if result.along_x { Direction::X } else { Direction::Y }.label();
            let Some(own) = result.storeys.get(at) else { continue };
            rows.push(Failing {
                what: way.to_owned(),
                gives: own.failure.label().to_owned(),
                strength: self.kn(own.strength_kn),
                demand: self.kn(own.shear_kn),
                drift: self.drift(own.strength_drift_mm, 1000.0 * height),
            });
            let ratio = show(own.ratio, Dimension::Number, self.system);
            let so = if own.ratio < 1.0 {
                format!("{ratio} of the elastic demand: it has to yield and bear the deformation.")
            } else {
                format!("{ratio} times the elastic demand.")
            };
            let lost = match own.lost.len() {
                0 => String::new(),
                1 => " One member is lost before.".to_owned(),
                many => format!(" {many} members are lost before."),
            };
            notes.push(format!("{} its strength is {so}{lost}", capital(way)));
        }
        self.words.failing = rows;
        self.words.notes = notes;
    }
}

fn capital(text: &str) -> String {
    super::capitalised(text)
}
