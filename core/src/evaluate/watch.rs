//! Findings that need the results, or the building as it stands beside them.

use super::{Analysis, Lateral, Standing};
use crate::connection::{ConnectionKind, ConnectionResult, listed};
use crate::finding::{Code, Finding};
use crate::phrase::Phrase;
use crate::place::{Class, Place};
use crate::project::Direction;
use crate::screening::{WEAK_STOREY, is_soft};
use crate::study::{DirectionResult, Failure, MemberResult};
use crate::units::Dimension::{Kilonewtons, Megapascals, Millimetres};

/// A first-mode method is doubtful where the governing mode carries less than this part of the mass
/// (common practice, no source).
const LEAST_EFFECTIVE_MASS: f64 = 0.6;

impl Analysis<'_> {
    /// Findings that need the results, or the building as it stands beside them.
    pub(super) fn comparative_findings(&self, standing: &Standing<'_>) -> Vec<Finding> {
        let mut findings = Vec::new();
        let storey_place = |storey: u32| Place::Storey { storey };
        for lateral in &self.directions {
            let result = &lateral.result;
            let direction = if result.along_x { Direction::X } else { Direction::Y };
            if result.eccentricity_share > 0.1 {
                let detail = format!("{:.0} % {}", 100.0 * result.eccentricity_share, direction.across().label());
                findings.push(Finding::new(Code::Eccentric, Place::Building, detail));
            }
            if result.effective_mass < LEAST_EFFECTIVE_MASS {
                let share = 100.0 * result.effective_mass;
                let detail = format!("{}, it carries {share:.0} % of the mass", direction.label());
                findings.push(Finding::new(Code::LowEffectiveMass, Place::Building, detail));
            }
            if result.period_s > 1.0 {
                findings.push(Finding::new(Code::LongPeriod, Place::Building, ""));
            }
            for pair in result.storeys.windows(2) {
                let (below, above) = (&pair[0], &pair[1]);
                if is_soft(below, above) {
                    let detail = format!("storey {} {}", below.storey, direction.label());
                    findings.push(Finding::new(Code::SoftStorey, storey_place(below.storey), detail));
                }
                if below.strength_kn < WEAK_STOREY * above.strength_kn {
                    let detail = format!("storey {} {}", below.storey, direction.label());
                    findings.push(Finding::new(Code::WeakStorey, storey_place(below.storey), detail));
                }
            }
            let before = standing.directions.iter().find(|other| other.along_x == result.along_x);
            if before.is_some_and(|before| result.strength_storey > before.strength_storey) {
                let detail = format!("{} {}", result.strength_storey, direction.label());
                findings.push(Finding::new(Code::WeakStoreyMoved, storey_place(result.strength_storey), detail));
            }
            findings.extend(self.far_side(lateral, standing));
            findings.extend(failures(result, direction));
            findings.extend(columns_first(result, direction));
            findings.extend(self.closing_gap(result, direction));
            findings.extend_from_slice(lateral.strengths.findings());
        }
        for slab in &self.slabs {
            let place = Place::Slab { face: slab.face.clone(), level: slab.level };
            let detail = format!("face {}, level {}", slab.face, slab.level);
            if slab.utilisation > 1.0 {
                findings.push(Finding::new(Code::SlabShort, place.clone(), &detail));
            }
        }
        for frame in &self.model.frames {
            let short = self.slabs.iter().filter(|slab| slab.face == frame.spec.face && slab.anchorage_limited);
            if let Some(least) = short.min_by(|one, other| one.bar_stress_mpa.total_cmp(&other.bar_stress_mpa)) {
                let place = Place::Slab { face: least.face.clone(), level: least.level };
                let detail = Phrase::from(format!("face {}, ", least.face)).show(least.bar_stress_mpa, Megapascals);
                findings.push(Finding::new(Code::AnchorageGoverns, place, detail));
            }
        }
        findings.extend(self.short_connections());
        let share = self.model.added_kn / standing.weight_kn;
        let detail = format!("{:.1} %", 100.0 * share);
        if share > 0.10 {
            findings.push(Finding::new(Code::HeavierByTen, Place::Building, detail));
        } else if share > 0.05 {
            findings.push(Finding::new(Code::HeavierByFive, Place::Building, detail));
        }
        findings
    }

    /// The most used connection of each kind that is asked for too much. Connecting slabs and footings
    /// that lift have findings of their own.
    fn short_connections(&self) -> Vec<Finding> {
        let kinds = ConnectionKind::ALL
            .into_iter()
            .filter(|kind| !matches!(kind, ConnectionKind::ConnectingSlab | ConnectionKind::Footing));
        kinds
            .filter_map(|kind| {
                let own: Vec<ConnectionResult> =
                    self.connections.iter().filter(|own| own.kind == kind).cloned().collect();
                let worst = *listed(&own).first()?;
                let used = worst.utilisation().filter(|used| *used > 1.0)?;
                let detail =
                    format!("{} on line {}, storey {} ({})", kind.label(), worst.line, worst.storey, times(used));
                Some(Finding::new(Code::ConnectionShort, worst.place.clone(), detail))
            })
            .collect()
    }

    /// The gap beside a freed column that closes before its storey has its strength.
    fn closing_gap(&self, result: &DirectionResult, direction: Direction) -> Option<Finding> {
        self.model.columns.iter().find_map(|column| {
            let gap_mm = column.gap_mm[direction.index()]?;
            let storey = &result.storeys[column.storey as usize - 1];
            let height = self.model.floors[column.storey as usize - 1].height_m;
            let moved = storey.strength_drift_mm * self.model.sill_beside_m(column, direction) / height;
            (moved > gap_mm).then(|| {
                let place = self.model.column_place(column);
                let detail = Phrase::from(format!("{place} {}, ", direction.label()));
                let detail = detail.show(moved, Millimetres).and(" at the sill");
                Finding::new(Code::GapCloses, place, detail)
            })
        })
    }

    /// The line that, without being strengthened, carries more shear than before by the most.
    fn far_side(&self, lateral: &Lateral, standing: &Standing<'_>) -> Option<Finding> {
        let result = &lateral.result;
        let before = standing.directions.iter().find(|other| other.along_x == result.along_x)?;
        let mut worst: Option<(f64, String, Phrase)> = None;
        for line in result.lines.iter().filter(|line| !line.external) {
            let Some(old) = before.lines.iter().find(|other| other.name == line.name) else { continue };
            let strengthened = lateral.strengths.storeys[0]
                .iter()
                .any(|member| member.line == line.name && member.class != Class::AsBuilt);
            for (storey, (now, was)) in (1..).zip(line.shear_kn.iter().zip(&old.shear_kn)) {
                let (now, was) = (now.abs(), was.abs());
                let counts = was > 0.05 * before.storeys[storey - 1].shear_kn && now > 1.05 * was;
                // A line that was itself strengthened is meant to carry more.
                if !strengthened && counts && worst.as_ref().is_none_or(|(rise, ..)| now / was > *rise) {
                    worst = Some((
                        now / was,
                        line.name.clone(),
                        Phrase::from(format!("{} in storey {storey} (", line.name))
                            .show(now, Kilonewtons)
                            .and(", was ")
                            .show(was, Kilonewtons)
                            .and(")"),
                    ));
                }
            }
        }
        worst.map(|(_, line, detail)| Finding::new(Code::FarSideWorse, Place::Line { line }, detail))
    }
}

/// A utilisation in words.
fn times(used: f64) -> String {
    if used < 100.0 {
        format!("{} times", crate::units::grouped(used, 2))
    } else {
        "nothing left to carry it".to_owned()
    }
}

/// Storeys below the top at whose upper joints the columns carry less than the beams bring. At a roof columns may yield
/// first (ACI 318-19 18.7.3.1, EN 1998-1 4.4.2.3(4); MEMORY).
fn columns_first(result: &DirectionResult, direction: Direction) -> Vec<Finding> {
    let below_top = result.storeys.split_last().map_or(&[][..], |(_, below)| below);
    let weak =
        below_top.iter().filter_map(|storey| Some((storey.storey, storey.sway.filter(|sway| sway.ratio < 1.0)?)));
    weak.map(|(storey, sway)| {
        let detail = format!("{} times in storey {storey} {}", crate::units::grouped(sway.ratio, 2), direction.label());
        Finding::new(Code::ColumnsFirst, Place::Storey { storey }, detail)
    })
    .collect()
}

/// Ways of failing of columns that deserve a word, counted over the storey that is weakest.
fn failures(result: &DirectionResult, direction: Direction) -> Vec<Finding> {
    let storey = &result.storeys[result.strength_storey as usize - 1];
    let columns: Vec<&MemberResult> =
        storey.members.iter().filter(|member| matches!(member.place, Place::Column { .. })).collect();
    let told = |code, count: usize| {
        let detail = format!("{count} of {} columns in storey {} {}", columns.len(), storey.storey, direction.label());
        (count > 0).then(|| Finding::new(code, Place::Storey { storey: storey.storey }, detail))
    };
    let doubtful = columns.iter().filter(|member| {
        member.failure != Failure::Shear && member.checked_shear_kn.is_some_and(|shear| shear < member.flexural_kn)
    });
    let doubtful = told(Code::ShearDoubtful, doubtful.count());
    [
        (Failure::Shear, Code::ColumnShearGoverned),
        (Failure::Joint, Code::JointGoverns),
        (Failure::Splice, Code::SpliceGoverns),
        (Failure::Beam, Code::WeakBeams),
    ]
    .into_iter()
    .filter_map(|(failure, code)| told(code, columns.iter().filter(|member| member.failure == failure).count()))
    .chain(doubtful)
    .collect()
}
