//! What acts on one column or wall while an option is pushed over.

use super::{Analysis, Case, Depth, ground_motion, rule_set, scheme_of};
use crate::assembly::Assembly;
use crate::framing::Framing;
use crate::line_mode::Hinge;
use crate::project::{Direction, Project};
use crate::pushover::{EndMoments, Pattern, Setup};
use crate::study::OptionKind;

/// A column or wall of a grid line. Lines and ends count from zero, bays and storeys from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Upright {
    /// A column that stands in no wall along the line.
    Column {
        /// Its line among those of the direction.
        line: usize,
        /// Its place along the line.
        end: usize,
        /// Its storey.
        storey: u32,
    },
    /// The wall that holds a bay.
    Wall {
        /// Its line among those of the direction.
        line: usize,
        /// A bay it fills.
        bay: u32,
        /// Its storey.
        storey: u32,
    },
}

/// Moments at the ends of a column or wall where the first member of the building yields, and at a
/// roof displacement, of a push by a pattern and in a sense; `None` where nothing can be pushed or no
/// such member stands in the direction.
///
/// The push is run anew for the one member, which moves apart from those like it: what every member carries would fill
/// a study.
pub fn end_moments(
    project: &Project,
    kind: OptionKind,
    direction: Direction,
    upright: Upright,
    push: (Pattern, bool),
    roof_mm: f64,
) -> Option<EndMoments> {
    let rules = rule_set(project);
    let scheme = scheme_of(project, kind)?;
    let analysis = Analysis::new(project, scheme, rules, Depth::Elastic);
    let hinges = &analysis
        .directions
        .iter()
        .find(|lateral| lateral.result.along_x == (direction == Direction::X))?
        .strengths
        .hinges;
    let framing = Framing::new(&analysis.model, &project.building.materials, rules).ok()?;
    let member = framing.lines.iter().enumerate().find_map(|(place, framed)| {
        let (line, hinge) = match upright {
            Upright::Column { line, end, storey } => {
                let inside = framed.walls.iter().any(|wall| wall.storey == storey && wall.holds(end));
                (line, (!inside).then_some(Hinge::ColumnEnd { storey: storey as usize - 1, line: end, top: false }))
            }
            Upright::Wall { line, bay, storey } => {
                let holds = |wall: &crate::framing::WallGroup| {
                    wall.storey == storey && (wall.first_bay..=wall.last_bay).contains(&bay)
                };
                (line, framed.walls.iter().position(holds).map(|index| Hinge::WallFoot { index }))
            }
        };
        (framed.direction == direction && framed.line == line).then_some((place, hinge?))
    })?;
    let assembly = framing.assembly(&analysis.model);
    let factored = assembly.factor().ok()?;
    let modes = factored.modes().ok()?;
    let leaning = Assembly { p_delta: true, ..assembly.clone() };
    let leaning = leaning.factor().ok()?;
    let motion = ground_motion(project);
    let case = Case {
        project,
        framing: &framing,
        assembly: &assembly,
        factored: &factored,
        leaning: Some(&leaning),
        motion: &motion,
        direction,
        mode: modes.governing(direction)?,
    };
    let mut setup = analysis.setup(&case, &leaning, hinges).ok()?;
    let together = |setup: &Setup<'_>| setup.end_moments(push, member, roof_mm);
    setup.settings.grouping.apart = Some(member);
    let apart = together(&setup);
    if apart.is_some_and(|own| own.at_roof.is_some()) {
        return apart;
    }
    // A path that ends elsewhere than the curve's would say that the building does not follow so far.
    setup.settings.grouping.apart = None;
    together(&setup)
}
