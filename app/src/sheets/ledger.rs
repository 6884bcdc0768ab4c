//! The storey ledger: rows of figures that stand beside the drawn storeys and floors.

use super::connections_html::used;
use crate::drawing::{Drawing, share_bar};
use sisterframe_core::connection::Part;
use sisterframe_core::place::Class;
use sisterframe_core::project::Direction;
use sisterframe_core::reading::overused_beyond;
use sisterframe_core::study::{ForceBound, OptionKind, OptionResult, SlabResult, Study};
use sisterframe_core::units::{Dimension, System, grouped, number, show};

/// Length of a bar of shares, px.
const BAR_PX: f64 = 100.0;

/// Figures of a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct StoreyRow {
    /// Number, from 1.
    pub storey: u32,
    /// Storey shear with unit.
    pub shear: String,
    /// Shares as a bar.
    pub bar: Drawing,
    /// Shares in words, those that are not nothing.
    pub shares: Vec<(Class, String)>,
    /// Drift with unit.
    pub drift: String,
    /// Drift over height, as one part in so many.
    pub part: String,
}

/// Figures of a connecting slab at a level.
#[derive(Clone, Debug, PartialEq)]
pub struct SlabRow {
    /// The face, where there is more than one.
    pub face: Option<String>,
    /// Force it is checked for, with unit.
    pub demand: String,
    /// Design strength in shear friction, with unit.
    pub friction: String,
    /// Design strength of the strip, with unit.
    pub strip: String,
    /// Whether shear friction is the lesser.
    pub friction_governs: bool,
    /// Demand over strength.
    pub utilisation: String,
    /// Whether that is above one.
    pub short: bool,
    /// What sets the demand.
    pub bound: &'static str,
    /// Whether the bars' embedment limits the strength.
    pub anchorage_limited: bool,
    /// What the mean strength is divided by where shear cannot even out along the interface.
    pub peak: Option<String>,
    /// A part behind the slab that is asked for more than it carries and is used more than the slab.
    pub weaker: Option<String>,
}

/// A storey with the floor on top.
#[derive(Clone, Debug, PartialEq)]
pub struct LedgerRow {
    /// Name of the level on top.
    pub level: String,
    /// The storey.
    pub storey: StoreyRow,
    /// Connecting slabs at that level.
    pub slabs: Vec<SlabRow>,
}

/// The ledger from the roof down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ledger {
    /// Rows from the roof down.
    pub rows: Vec<LedgerRow>,
    /// Whether any connecting slab works in this direction.
    pub has_slabs: bool,
    /// The units its figures are shown in.
    pub system: System,
}

/// How many connecting slabs meet the level that has most, in a direction.
pub fn slabs_a_level(option: &OptionResult, direction: Direction) -> usize {
    let along_x = direction == Direction::X;
    let level = |level: u32| option.slabs.iter().filter(|slab| slab.along_x == along_x && slab.level == level).count();
    option.slabs.iter().map(|slab| level(slab.level)).max().unwrap_or(0)
}

/// Name of a level.
pub fn level_name(level: u32, storeys: usize) -> String {
    if level as usize == storeys { "Roof".to_owned() } else { format!("Level {level}") }
}

impl Ledger {
    /// Picks the ledger out of a result; nothing if the direction is withheld.
    pub fn of(option: &OptionResult, direction: Direction, system: System) -> Option<Self> {
        let along_x = direction == Direction::X;
        let result = option.directions.iter().find(|result| result.along_x == along_x)?;
        let slabs: Vec<&SlabResult> = option.slabs.iter().filter(|slab| slab.along_x == along_x).collect();
        let several = slabs.iter().any(|slab| slab.face != slabs[0].face);
        let rows = result
            .storeys
            .iter()
            .rev()
            .map(|storey| {
                let shares = Class::ALL.map(|class| storey.share(class));
                LedgerRow {
                    level: level_name(storey.storey, result.storeys.len()),
                    storey: StoreyRow {
                        storey: storey.storey,
                        shear: show(storey.shear_kn, Dimension::Kilonewtons, system),
                        bar: share_bar(shares, BAR_PX),
                        shares: Class::ALL
                            .into_iter()
                            .zip(shares)
                            .filter(|(_, share)| share.abs() >= 5e-4)
                            .map(|(class, share)| (class, show(share, Dimension::Share, system)))
                            .collect(),
                        drift: show(storey.drift_mm, Dimension::Millimetres, system),
                        part: part(storey.drift_ratio),
                    },
                    slabs: slabs
                        .iter()
                        .filter(|slab| slab.level == storey.storey)
                        .map(|slab| SlabRow {
                            face: several.then(|| slab.face.clone()),
                            demand: show(slab.demand_kn, Dimension::Kilonewtons, system),
                            friction: show(slab.friction_kn, Dimension::Kilonewtons, system),
                            strip: show(slab.strip_kn, Dimension::Kilonewtons, system),
                            friction_governs: slab.friction_governs,
                            utilisation: grouped(slab.utilisation, 2),
                            short: slab.utilisation > 1.0,
                            bound: bound(slab.bound),
                            anchorage_limited: slab.anchorage_limited && slab.friction_governs,
                            peak: (slab.peak > 1.0).then(|| grouped(slab.peak, 2)),
                            weaker: overused_beyond(option, slab)
                                .map(|check| format!("but {} {}", briefly(check.part), used(check.utilisation))),
                        })
                        .collect(),
                }
            })
            .collect();
        Some(Self { rows, has_slabs: !slabs.is_empty(), system })
    }
}

/// A part behind a slab's joint and strip, in words that fit a column.
const fn briefly(part: Part) -> &'static str {
    match part {
        Part::OldSlab => "old slab",
        Part::PulledBars => "pull on bars",
        _ => "new joint",
    }
}

/// What sets a slab's demand, in few words.
const fn bound(bound: ForceBound) -> &'static str {
    match bound {
        ForceBound::ElasticSpectrum => "by spectrum",
        ForceBound::FrameMechanism => "by mechanism",
        ForceBound::FootingUplift => "by uplift",
        ForceBound::PerformancePoint => "at demand",
        ForceBound::LeastFloorForce => "least force",
        ForceBound::OwnStrength => "by strength",
    }
}

/// A drift ratio as one part in so many.
fn part(ratio: f64) -> String {
    if ratio == 0.0 { "–".to_owned() } else { format!("1/{:.0}", 1.0 / ratio.abs()) }
}

/// What one line carries in a storey.
#[derive(Clone, Debug, PartialEq)]
pub struct LineCell {
    /// Storey shear.
    pub shear: String,
    /// With the accidental eccentricity that raises it most.
    pub with_accidental: String,
    /// That of the building as it stands, if clearly less.
    pub before: Option<String>,
    /// Drift at the line.
    pub drift: String,
}

/// A frame line with what it carries.
#[derive(Clone, Debug, PartialEq)]
pub struct LineRow {
    /// Its name.
    pub name: String,
    /// Whether it is an external frame.
    pub external: bool,
    /// Where it stands across the direction.
    pub ordinate: String,
    /// Storeys from the ground up.
    pub cells: Vec<LineCell>,
}

impl LineRow {
    /// Whether it carries clearly more somewhere than in the building as it stands.
    pub fn is_worse(&self) -> bool {
        self.cells.iter().any(|cell| cell.before.is_some())
    }
}

/// How much more counts as clearly more.
const CLEARLY: f64 = 1.05;

/// Lines of a direction, compared with the building as it stands.
pub fn lines(study: &Study, option: &OptionResult, direction: Direction, system: System) -> Vec<LineRow> {
    let along_x = direction == Direction::X;
    let of = |option: &OptionResult| {
        option.directions.iter().find(|result| result.along_x == along_x).map(|result| result.lines.clone())
    };
    let before =
        study.options.iter().find(|other| other.kind == OptionKind::AsItStands).and_then(of).unwrap_or_default();
    let force = |value: f64| number(value, Dimension::Kilonewtons, system);
    of(option)
        .unwrap_or_default()
        .into_iter()
        .map(|line| {
            let old = before.iter().find(|old| old.name == line.name && !line.external);
            let cells = line
                .shear_kn
                .iter()
                .zip(&line.shear_with_accidental_kn)
                .zip(&line.drift_mm)
                .enumerate()
                .map(|(index, ((shear, with_accidental), drift))| LineCell {
                    shear: force(*shear),
                    with_accidental: force(*with_accidental),
                    before: old
                        .and_then(|old| old.shear_with_accidental_kn.get(index))
                        .filter(|old| with_accidental.abs() > old.abs() * CLEARLY)
                        .map(|old| force(*old)),
                    drift: number(*drift, Dimension::Millimetres, system),
                })
                .collect();
            LineRow {
                ordinate: show(line.ordinate_m, Dimension::Metres, system),
                name: line.name,
                external: line.external,
                cells,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use sisterframe_core::connection::ConnectionKind;

    fn study() -> Study {
        sample::study(&sample::project(sample::CLINIC))
    }

    #[test]
    fn rows_run_from_the_roof_down_and_underline_the_lesser_strength() {
        let study = study();
        let ledger = Ledger::of(&study.options[4], Direction::X, System::Si).expect("along x there are results");
        let levels: Vec<&str> = ledger.rows.iter().map(|row| row.level.as_str()).collect();
        assert_eq!(levels, ["Roof", "Level 3", "Level 2", "Level 1"]);
        assert!(ledger.has_slabs);
        for (row, slab) in ledger.rows.iter().rev().zip(&study.options[4].slabs) {
            assert_eq!(row.slabs[0].friction_governs, slab.friction_kn <= slab.strip_kn);
            assert_eq!(row.slabs[0].short, slab.demand_kn > slab.friction_kn.min(slab.strip_kn));
            assert_eq!(row.slabs[0].face, None);
        }
    }

    /// The same part and figure as on the sheet of connections.
    #[test]
    fn an_old_slab_too_weak_for_the_force_is_told_beside_the_strip() {
        let study = sisterframe_core::evaluate::outline(&sample::project(sample::CLINIC));
        let option = &study.options[4];
        let ledger = Ledger::of(option, Direction::X, System::Si).expect("along x there are results");
        let mut told = 0;
        for (row, slab) in ledger.rows.iter().rev().zip(&option.slabs) {
            let whole = option
                .connections
                .iter()
                .find(|own| own.kind == ConnectionKind::ConnectingSlab && own.storey == slab.level);
            let check = whole.and_then(|own| own.governing()).expect("a check");
            let weaker = row.slabs[0].weaker.as_ref();
            assert_eq!(weaker.is_some(), check.utilisation > 1.0 && check.utilisation > slab.utilisation);
            assert!(weaker.is_none_or(|said| said.ends_with(&used(check.utilisation))), "{weaker:?}");
            told += usize::from(weaker.is_some());
        }
        assert!(told > 0);
    }

    #[test]
    fn two_frames_have_their_slabs_told_apart() {
        let study = study();
        let ledger = Ledger::of(&study.options[5], Direction::X, System::Si).expect("along x there are results");
        let faces: Vec<_> = ledger.rows[0].slabs.iter().map(|slab| slab.face.as_deref()).collect();
        assert_eq!(faces, [Some("A"), Some("C")]);
    }

    #[test]
    fn a_negative_share_is_printed_with_its_sign() {
        let study = study();
        let ledger = Ledger::of(&study.options[3], Direction::X, System::Si).expect("along x there are results");
        let negative = ledger.rows[0].storey.shares.iter().find(|(class, _)| *class == Class::New);
        assert!(negative.is_some_and(|(_, share)| share.starts_with('−')), "{:?}", ledger.rows[0].storey.shares);
    }

    #[test]
    fn a_line_that_carries_more_than_before_is_marked_with_what_it_was() {
        let mut study = study();
        assert!(lines(&study, &study.options[4], Direction::X, System::Si)[2].cells[0].before.is_none());
        study.options[4].directions[0].lines[2].shear_with_accidental_kn[0] = 1e5;
        let rows = lines(&study, &study.options[4], Direction::X, System::Si);
        assert!(rows[2].is_worse());
        assert!(rows[2].cells[0].before.is_some());
        let external = rows.last().expect("the frame is a line too");
        assert!(external.external && !external.is_worse());
    }

    #[test]
    fn a_drift_is_one_part_in_so_many() {
        assert_eq!(part(0.004), "1/250");
        assert_eq!(part(0.0), "–");
    }
}
