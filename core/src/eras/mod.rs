//! Materials and detailing typical of an era: values to start from where nothing is known yet.
//!
//! What is taken is noted in the building (`assumed`) with practice and year, and stays noted for
//! as long as the building holds a value that was taken. So it is never silent.

mod table;

use crate::phrase::Phrase;
use crate::project::{Assumed, Building, ColumnType, Feature, Hooks, Masonry, Occupancy, Practice, Values};
use crate::rules::source::{self, ClauseConstant};
use crate::units::{Dimension, System, numbered_bars};
use crate::works::rates::Mark;
use table::{BY_ERA, Figures};

/// An era of a practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Era {
    /// Its first year; 1880 stands for anything before the second.
    pub first: u32,
    /// Its last year.
    pub last: u32,
    /// The kind of bars, which the format has no field for.
    pub bars: &'static str,
}

impl Era {
    /// The year after which nothing is known.
    const END: u32 = 2100;

    /// Its years in words.
    pub fn name(self) -> String {
        match self {
            Self { first: 1880, last, .. } => format!("before {}", last + 1),
            Self { first, last: Self::END, .. } => format!("from {first} on"),
            Self { first, last, .. } => format!("{first} to {last}"),
        }
    }
}

/// The eras of a practice in order.
pub fn eras(practice: Practice) -> Vec<Era> {
    let all = table::of(practice).eras;
    let ends = all.iter().skip(1).map(|next| next.from - 1).chain([Era::END]);
    all.iter().zip(ends).map(|(own, last)| Era { first: own.from, last, bars: own.bars }).collect()
}

/// The era of a practice a year lies in.
///
/// ```
/// use sisterframe_core::eras::era;
/// use sisterframe_core::project::Practice;
/// assert_eq!(era(Practice::Japan, 1966).name(), "1960 to 1971");
/// ```
pub fn era(practice: Practice, year: u32) -> Era {
    let found = eras(practice).into_iter().find(|own| year <= own.last);
    found.unwrap_or(Era { first: Era::END, last: Era::END, bars: "" })
}

/// What is typical of a feature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typical {
    /// The value to start from; of bars of columns their share of the section, of laps bar diameters.
    pub value: f64,
    /// The lowest usual value.
    pub low: f64,
    /// The highest usual value.
    pub high: f64,
    /// How sure it is.
    pub mark: Mark,
    /// Where it comes from; empty where nothing is named.
    pub source: &'static str,
}

impl Typical {
    /// The same in round numbers of the units shown: the table holds figures that are round in metric or in US
    /// units by where they come from.
    #[must_use]
    pub fn in_units(self, feature: Feature, system: System) -> Self {
        let round = |value| feature.round_in(value, system);
        Self { value: round(self.value), low: round(self.low), high: round(self.high), ..self }
    }
}

/// What is typical of a feature by practice, year and use.
pub fn typical(feature: Feature, practice: Practice, year: u32, occupancy: Occupancy) -> Typical {
    let table = table::of(practice);
    let place = feature as usize;
    let used = occupancy as usize;
    let [value, low, high] = match feature {
        Feature::Live => table.live_kpa[used],
        Feature::LiveShare => table.live_share[used],
        _ => {
            let own = table.eras.iter().rev().find(|own: &&Figures| own.from <= year).unwrap_or(&table.eras[0]);
            own.of[place.min(BY_ERA - 1)]
        }
    };
    let (mark, source) = table::source(feature, practice);
    Typical { value, low, high, mark, source }
}

/// Figures from memory, to be confirmed against the documents they name. They differ by era, so the
/// practice stands for the value.
pub fn constants() -> Vec<ClauseConstant> {
    let mut all = Vec::new();
    for practice in PRACTICES {
        for feature in FEATURES {
            if let (Mark::Memory, clause) = table::source(feature, practice) {
                let value = practice.label();
                all.push(ClauseConstant { key: feature.key(), clause, value, mark: source::Mark::Memory });
            }
        }
    }
    all
}

/// Every practice.
pub const PRACTICES: [Practice; 4] = [Practice::NorthAmerica, Practice::Europe, Practice::Japan, Practice::Other];

/// Every feature, in the order of the table.
pub const FEATURES: [Feature; 15] = [
    Feature::Concrete,
    Feature::Steel,
    Feature::HoopSteel,
    Feature::ColumnBars,
    Feature::Cover,
    Feature::Hoop,
    Feature::HoopSpacing,
    Feature::Hooks,
    Feature::Lap,
    Feature::Stirrup,
    Feature::StirrupSpacing,
    Feature::MasonryCompression,
    Feature::MasonryShear,
    Feature::Live,
    Feature::LiveShare,
];

impl Feature {
    /// What its number measures, as it is shown.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Concrete | Self::Steel | Self::HoopSteel | Self::MasonryCompression | Self::MasonryShear => {
                Dimension::Megapascals
            }
            Self::ColumnBars | Self::LiveShare => Dimension::Share,
            Self::Cover | Self::Hoop | Self::HoopSpacing | Self::Stirrup | Self::StirrupSpacing => {
                Dimension::Millimetres
            }
            Self::Hooks | Self::Lap => Dimension::Number,
            Self::Live => Dimension::Kilopascals,
        }
    }

    /// Keys of the fields it stands in.
    pub const fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Concrete => &["concrete_mpa"],
            Self::Steel => &["steel_mpa"],
            Self::HoopSteel => &["hoop_steel_mpa"],
            Self::ColumnBars => &["bars", "bar_mm"],
            Self::Cover => &["cover_mm"],
            Self::Hoop => &["hoop_mm"],
            Self::HoopSpacing => &["hoop_spacing_mm"],
            Self::Hooks => &["hooks"],
            Self::Lap => &["lap_mm"],
            Self::Stirrup => &["stirrup_mm"],
            Self::StirrupSpacing => &["stirrup_spacing_mm"],
            Self::MasonryCompression => &["compressive_mpa"],
            Self::MasonryShear => &["shear_mpa"],
            Self::Live => &["live_kpa"],
            Self::LiveShare => &["live_share"],
        }
    }

    /// The round number of the units shown that comes next to a value; bars go by those sold there.
    fn round_in(self, value: f64, system: System) -> f64 {
        if system == System::Si {
            return value;
        }
        let step = match self {
            Self::Hoop | Self::Stirrup => {
                let nearer =
                    |best: f64, next: f64| if (next - value).abs() < (best - value).abs() { next } else { best };
                return numbered_bars().reduce(nearer).unwrap_or(value);
            }
            // ksi, inches and psf.
            Self::Concrete => 0.25,
            Self::Steel | Self::HoopSteel | Self::HoopSpacing | Self::StirrupSpacing => 1.0,
            Self::Cover => 0.25,
            Self::MasonryCompression => 0.05,
            Self::MasonryShear => 0.001,
            Self::Live => 5.0,
            Self::ColumnBars | Self::Hooks | Self::Lap | Self::LiveShare => return value,
        };
        let unit = self.dimension().unit(system).factor;
        // To the millionth, so that the file stays readable.
        ((value * unit / step).round() * step / unit * 1e6).round() / 1e6
    }

    /// A value as it is shown.
    pub fn words(self, value: f64, system: System) -> String {
        self.range_words(value, value, system)
    }

    /// A range as it is shown, its unit once.
    pub fn range_words(self, low: f64, high: f64, system: System) -> String {
        let (dimension, scale, unit) = match self {
            Self::Hooks => (Dimension::Number, 1.0, "°"),
            Self::Lap => (Dimension::Number, 1.0, " bar diameters"),
            Self::ColumnBars => (Dimension::Number, 100.0, "\u{a0}%"),
            _ => (self.dimension(), 1.0, ""),
        };
        if self == Self::Lap && high == 0.0 {
            return "none".to_owned();
        }
        // To a tenth, so that what is worked out from bars and sections stays readable.
        let [low, high] = match unit {
            "" => [low, high],
            _ => [low, high].map(|value| (10.0 * scale * value).round() / 10.0),
        };
        let start =
            if low < high { Phrase::default().bare(low, dimension).and("–\u{2060}") } else { Phrase::default() };
        start.size(high, dimension).and(unit).in_units(system)
    }
}

/// Where a feature stands in a building: a name, or nothing where it is the building's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The column or beam type, storey or panel.
    pub place: String,
    /// The value as it is held.
    pub held: f64,
    /// The value as it is shown.
    pub shown: f64,
}

/// Up to a multiple.
pub(crate) fn up_to(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

/// Bars that give an area: an even count of the smallest size of which no more than `most` are
/// needed, or the most of the largest.
pub(crate) fn bars(area_mm2: f64, least: u32, most: u32, system: System) -> (u32, f64) {
    let sizes_mm = match system {
        System::Si => [16.0, 19.0, 22.0, 25.0, 29.0, 32.0],
        // # 5 to # 10 of ASTM A615 (MEMORY).
        System::Us => [15.875, 19.05, 22.225, 25.4, 28.65, 32.26],
    };
    let count = |size: f64| {
        let needed = (area_mm2 / area(1, size)).ceil() as u32;
        (needed + needed % 2).max(least)
    };
    let size = sizes_mm.into_iter().find(|size| count(*size) <= most).unwrap_or(sizes_mm[5]);
    (count(size).min(most), size)
}

fn area(count: u32, bar_mm: f64) -> f64 {
    0.25 * std::f64::consts::PI * bar_mm * bar_mm * f64::from(count)
}

/// Bars of a column by their share of its section.
pub(crate) fn column_bars(x_mm: f64, y_mm: f64, share: f64, system: System) -> (u32, f64) {
    let most = ((x_mm + y_mm) / 80.0) as u32;
    let least = if x_mm.min(y_mm) < 300.0 { 4 } else { 8 };
    bars(share * x_mm * y_mm, least, (most + most % 2).clamp(8, 60), system)
}

/// A lap of so many bar diameters, mm, or none.
pub(crate) fn lap_mm(diameters: f64, bar_mm: f64, system: System) -> Option<f64> {
    let step_mm = if system == System::Si { 10.0 } else { 25.4 };
    (diameters > 0.0).then(|| up_to(diameters * bar_mm, step_mm))
}

/// How hoops with hooks of an angle end.
pub(crate) const fn hooks(degrees: f64) -> Hooks {
    if degrees > 90.0 { Hooks::Seismic } else { Hooks::Right }
}

const fn degrees(hooks: Hooks) -> f64 {
    match hooks {
        Hooks::Right => 90.0,
        Hooks::Seismic => 135.0,
    }
}

/// The numbers of a feature that are held as they are shown, each with its place.
fn numbers(building: &mut Building, feature: Feature) -> Vec<(String, &mut f64)> {
    let columns = building.column_types.iter_mut();
    let beams = building.beam_types.iter_mut();
    let own = |value| vec![(String::new(), value)];
    match feature {
        Feature::Concrete => own(&mut building.materials.concrete_mpa),
        Feature::Steel => own(&mut building.materials.steel_mpa),
        Feature::HoopSteel => own(&mut building.materials.hoop_steel_mpa),
        Feature::LiveShare => own(&mut building.live_share),
        Feature::Live => {
            let below_roof = building.storeys.len().saturating_sub(1);
            let floors = building.storeys.iter_mut().take(below_roof).enumerate();
            floors.map(|(n, own)| (format!("storey {}", n + 1), &mut own.live_kpa)).collect()
        }
        Feature::MasonryCompression | Feature::MasonryShear => {
            let value = |own| match feature {
                Feature::MasonryShear => masonry_shear(own),
                _ => masonry_compression(own),
            };
            let panels = building.masonry.iter_mut().enumerate();
            panels.map(|(n, own)| (format!("row {}", n + 1), value(own))).collect()
        }
        Feature::Cover => {
            let of_columns = columns.map(|own| (own.name.clone(), &mut own.cover_mm));
            of_columns.chain(beams.map(|own| (own.name.clone(), &mut own.cover_mm))).collect()
        }
        Feature::Hoop => columns.map(|own| (own.name.clone(), &mut own.hoop_mm)).collect(),
        Feature::HoopSpacing => columns.map(|own| (own.name.clone(), &mut own.hoop_spacing_mm)).collect(),
        Feature::Stirrup => beams.map(|own| (own.name.clone(), &mut own.stirrup_mm)).collect(),
        Feature::StirrupSpacing => beams.map(|own| (own.name.clone(), &mut own.stirrup_spacing_mm)).collect(),
        Feature::Hooks | Feature::Lap | Feature::ColumnBars => Vec::new(),
    }
}

const fn masonry_compression(own: &mut Masonry) -> &mut f64 {
    &mut own.compressive_mpa
}

const fn masonry_shear(own: &mut Masonry) -> &mut f64 {
    &mut own.shear_mpa
}

/// Goes through the places of a feature; where `wanted` says so, they take a value as shown.
fn visit(building: &mut Building, feature: Feature, wanted: Option<(f64, System)>) -> Vec<Cell> {
    if matches!(feature, Feature::Hooks | Feature::Lap | Feature::ColumnBars) {
        return building.column_types.iter_mut().map(|own| visit_column(own, feature, wanted)).collect();
    }
    let take = |(place, own): (String, &mut f64)| {
        *own = wanted.map_or(*own, |(value, _)| value);
        Cell { place, held: *own, shown: *own }
    };
    numbers(building, feature).into_iter().map(take).collect()
}

/// Features of a column that are not held as they are shown.
fn visit_column(own: &mut ColumnType, feature: Feature, wanted: Option<(f64, System)>) -> Cell {
    let (held, shown) = match feature {
        Feature::Hooks => {
            own.hooks = wanted.map_or(own.hooks, |(value, _)| hooks(value));
            (degrees(own.hooks), degrees(own.hooks))
        }
        Feature::Lap => {
            if let Some((diameters, system)) = wanted {
                own.lap_mm = lap_mm(diameters, own.bar_mm, system);
            }
            let held = own.lap_mm.unwrap_or(0.0);
            (held, held / own.bar_mm)
        }
        _ => {
            if let Some((share, system)) = wanted {
                (own.bars, own.bar_mm) = column_bars(own.x_mm, own.y_mm, share, system);
            }
            let held = area(own.bars, own.bar_mm);
            (held, held / (own.x_mm * own.y_mm))
        }
    };
    Cell { place: own.name.clone(), held, shown }
}

/// What a building has of a feature, place by place; empty where it has no such thing.
pub fn cells(building: &Building, feature: Feature) -> Vec<Cell> {
    visit(&mut building.clone(), feature, None)
}

/// Takes a feature as it is typical of a year by a practice, at every place in round numbers of the units shown, and
/// notes it.
pub fn take(building: &mut Building, feature: Feature, practice: Practice, year: u32, system: System) {
    give(building, feature, practice, year, system);
    note(building, feature, practice, year);
}

fn give(building: &mut Building, feature: Feature, practice: Practice, year: u32, system: System) {
    let wanted = typical(feature, practice, year, building.occupancy).in_units(feature, system).value;
    visit(building, feature, Some((wanted, system)));
}

/// Notes what a building has of a feature as assumed.
pub(crate) fn note(building: &mut Building, feature: Feature, practice: Practice, year: u32) {
    let mut values: Vec<f64> = cells(building, feature).into_iter().map(|cell| cell.held).collect();
    values.dedup();
    building.assumed.retain(|own| own.feature != feature);
    if !values.is_empty() {
        let at = building.assumed.partition_point(|own| own.feature < feature);
        building.assumed.insert(at, Assumed { feature, practice, year, values: Values(values) });
    }
}

/// Whether taking a feature would change nothing, whichever units it was taken in.
pub fn is_typical(building: &Building, feature: Feature, practice: Practice, year: u32) -> bool {
    [System::Si, System::Us].into_iter().any(|system| {
        let mut trial = building.clone();
        give(&mut trial, feature, practice, year, system);
        trial == *building
    })
}

/// What is typical of the bars of columns, where the bars that were taken for it give another share: they are whole, of
/// usual sizes, and as many as a column has at least.
pub fn typical_before_rounding(
    building: &Building,
    own: Feature,
    practice: Practice,
    year: u32,
    [low, high]: [f64; 2],
    system: System,
) -> Option<String> {
    let usual = own.words(typical(own, practice, year, building.occupancy).value, system);
    (own == Feature::ColumnBars && own.range_words(low, high, system) != usual).then_some(usual)
}

/// Whether a value is one of those that were taken. A file may round the last digit.
fn is_taken(own: &Assumed, held: f64) -> bool {
    own.values.0.iter().any(|value| (value - held).abs() <= 1e-9 * value.abs())
}

/// Places where a value that was taken still stands.
fn standing(building: &Building, own: &Assumed) -> Vec<Cell> {
    let mut cells = cells(building, own.feature);
    cells.retain(|cell| is_taken(own, cell.held));
    cells
}

/// Drops the notes of what no longer stands anywhere.
pub fn forget_replaced(building: &mut Building) {
    let mut notes = std::mem::take(&mut building.assumed);
    notes.retain(|own| !standing(building, own).is_empty());
    building.assumed = notes;
}

/// Something that stands assumed.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// What.
    pub feature: Feature,
    /// By which practice.
    pub practice: Practice,
    /// Typical of which era.
    pub era: Era,
    /// The value where it still stands, and where, if that is not everywhere.
    pub words: String,
}

/// What of a building stands assumed.
pub fn assumed(building: &Building, system: System) -> Vec<Standing> {
    let mut all = Vec::new();
    for own in &building.assumed {
        let here = standing(building, own);
        let shown = |pick: fn(f64, f64) -> f64| here.iter().map(|cell| cell.shown).reduce(pick);
        let (Some(low), Some(high)) = (shown(f64::min), shown(f64::max)) else { continue };
        let mut words = own.feature.range_words(low, high, system);
        if here.len() < cells(building, own.feature).len() {
            let places: Vec<&str> = here.iter().map(|cell| cell.place.as_str()).collect();
            words = format!("{words} ({})", places.join(", "));
        }
        let span = [low, high];
        if let Some(usual) = typical_before_rounding(building, own.feature, own.practice, own.year, span, system) {
            words = format!("{words} ({usual} in whole bars)");
        }
        all.push(Standing { feature: own.feature, practice: own.practice, era: era(own.practice, own.year), words });
    }
    all
}

/// What of a building stands assumed, a sentence for each practice and era.
pub fn assumed_in_words(building: &Building, system: System) -> Vec<String> {
    let mut groups: Vec<((Practice, Era), Vec<String>)> = Vec::new();
    for own in assumed(building, system) {
        let words = format!("{} {}", own.feature.label().to_lowercase(), own.words);
        let key = (own.practice, own.era);
        match groups.iter_mut().find(|(other, _)| *other == key) {
            Some((_, all)) => all.push(words),
            None => groups.push((key, vec![words])),
        }
    }
    let sentence = |((practice, era), all): ((Practice, Era), Vec<String>)| {
        format!("Assumed, typical of {}: {}.", time_and_place(practice, era), all.join("; "))
    };
    groups.into_iter().map(sentence).collect()
}

/// An era of a practice as it stands inside a sentence.
pub fn time_and_place(practice: Practice, era: Era) -> String {
    match practice {
        Practice::Other => format!("buildings {}, practice not known", era.name()),
        practice => format!("{}, {}", practice.label(), era.name()),
    }
}
