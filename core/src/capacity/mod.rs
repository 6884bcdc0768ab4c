//! Strengths of members: the mechanics behind [`crate::member::Strengths`].

mod beams;
mod boundary;
mod checks;
mod columns;
mod counted;
mod frames;
mod hinges;
mod masonry;
mod overturning;
mod walls;
mod wings;

pub use beams::BeamShear;
pub use checks::Sway;
pub use counted::{Counted, column_section, wall_section};
pub(crate) use overturning::axial_range_kn;
pub use walls::{Perimeter, WallJoints};

use crate::joint::JointCapacity;

use crate::failure::Failure;
use crate::finding::Finding;
use crate::framing::Framing;
use crate::hinge::HingeStrength;
use crate::joint::NodeLimit;
use crate::member::{Carried, MemberId, Strengths, in_order};
use crate::model::Model;
use crate::project::{Direction, Materials};
use crate::response::Response;
use crate::rules::{PlasticRotations, Ruled, Rules};
use crate::sections::Sections;
use overturning::Changes;

/// The two senses of a storey's drift.
const SENSES: [usize; 2] = [0, 1];

impl Strengths {
    /// Strengths of all members in a direction.
    ///
    /// `translated` is the response to the elastic forces with the plan kept from turning;
    /// its shears over its drifts are the secant stiffnesses members share a storey with.
    pub fn new(
        model: &Model,
        framing: &Framing,
        materials: &Materials,
        rules: &dyn Rules,
        direction: Direction,
        translated: &Response,
        forces_kn: &[f64],
    ) -> Ruled<Self> {
        let sections = Sections::new(model, materials, rules)?;
        let mut work = Work { levers_m: levers(model, forces_kn), ..Work::new(sections, direction) };
        let carried = in_order(model, framing, direction, translated);
        let lines: Vec<Option<LineStrengths>> = framing
            .lines
            .iter()
            .map(|line| (line.direction == direction).then(|| work.line(line)).transpose())
            .collect::<Ruled<_>>()?;
        let beams = beams::all(&lines);
        work.found.extend(beams::findings(direction, &beams, model.floors.len() as u32));
        for (index, (line, strengths)) in framing.lines.iter().zip(&lines).enumerate() {
            if let Some(strengths) = strengths {
                work.beam_hinges(index, line, strengths)?;
                work.strengthened_joints(index, line, strengths);
            }
        }
        let mut sums = vec![[checks::Sums::default(); 2]; model.floors.len()];
        for (line, strengths) in framing.lines.iter().zip(&lines) {
            if let Some(strengths) = strengths {
                work.add_sway(line, strengths, &mut sums);
            }
        }
        let changes: Vec<Changes> = framing
            .lines
            .iter()
            .zip(&lines)
            .map(|(line, own)| own.as_ref().map_or_else(Vec::new, |own| work.overturning(line, own)))
            .collect();
        work.pushed_over(framing.lines.iter().zip(&changes).filter(|(_, own)| !own.is_empty()))?;
        work.frame_hinges()?;
        work.floor_hinges(framing)?;
        let shears: Vec<f64> = (0..forces_kn.len()).map(|s| forces_kn[s..].iter().sum()).collect();
        let mut storeys = Vec::new();
        for (s, members) in carried.iter().enumerate() {
            let mut row = Vec::new();
            for member in members {
                let strength = match member.member {
                    MemberId::Column { line, end } => match &lines[line] {
                        Some(strengths) => {
                            let change = changes[line][s][end];
                            work.column((line, &framing.lines[line]), strengths, [s, end], change, member)?
                        }
                        None => None,
                    },
                    MemberId::Wall { line, wall } => {
                        Some(work.wall((line, &framing.lines[line]), wall, &shears, member)?)
                    }
                    MemberId::Masonry { line, panel } => {
                        Some(work.masonry((line, &framing.lines[line]), lines[line].as_ref(), panel, member)?)
                    }
                    MemberId::Frame { frame } => Some(work.frame(frame, s, &shears, member)?),
                };
                row.extend(strength);
            }
            storeys.push(row);
        }
        Ok(Self {
            storeys,
            hinges: work.hinges,
            joints: work.joints,
            nodes: work.nodes,
            sways: sums.iter().map(checks::sway).collect(),
            beams,
            found: work.found,
        })
    }

    /// What was found on the way.
    pub fn findings(&self) -> &[Finding] {
        &self.found
    }
}

/// Height of the resultant of the lateral forces above each storey's foot, m.
pub(crate) fn levers(model: &Model, forces_kn: &[f64]) -> Vec<f64> {
    (0..forces_kn.len())
        .map(|s| {
            let foot = model.floors[s].level_m - model.floors[s].height_m;
            let shear: f64 = forces_kn[s..].iter().sum();
            let moment: f64 =
                model.floors.iter().zip(forces_kn).skip(s).map(|(floor, force)| force * (floor.level_m - foot)).sum();
            if shear > 0.0 { moment / shear } else { model.floors[s].height_m }
        })
        .collect()
}

/// Bending strengths of a line's columns and beams.
struct LineStrengths {
    /// By storey and place along the line: moments of the column in both senses, kNm.
    columns: Vec<Vec<Option<[f64; 2]>>>,
    /// By floor and place along the line: what beams and joint let columns have in both
    /// senses.
    joints: Vec<Vec<[Option<JointLimit>; 2]>>,
    /// By storey and place along the line: stress old bars carry where their lap is too
    /// short to reach yield, MPa.
    lap_mpa: Vec<Vec<Option<f64>>>,
    /// By floor and bay: sagging and hogging strength of the beam, kNm.
    beams: Vec<Vec<Option<[f64; 2]>>>,
    /// By floor and bay: their shear with both ends at these.
    shears: Vec<Vec<Option<BeamShear>>>,
}

/// What a joint lets the columns at it have.
#[derive(Clone, Copy, Debug, PartialEq)]
struct JointLimit {
    /// Sum of moments at its centre, kNm.
    moment_knm: f64,
    /// What sets it.
    limit: NodeLimit,
    /// Plastic rotations of what sets it.
    rotations: PlasticRotations,
    /// Sum of beam moments at the faces over that at the centre.
    at_faces: f64,
    /// Sum of beam moments at the centre, kNm.
    beams_knm: f64,
    /// The joint itself, where beams frame in.
    joint: Option<JointAsBuilt>,
}

/// A joint with what its strength comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
struct JointAsBuilt {
    capacity: JointCapacity,
    area_mm2: f64,
    coefficient: f64,
    beam_depth_m: f64,
}

/// The joint over a column with wings along the direction or with a jacket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NodeJoint {
    /// Its line among the framed lines.
    pub line: usize,
    /// The storey below it, from 1.
    pub storey: u32,
    /// Its place along the line.
    pub end: usize,
    /// Moments the beams bring to its centre in the sense that asks more, kNm.
    pub beams_knm: f64,
    /// Moments the columns bring there, kNm.
    pub columns_knm: f64,
    /// What it can carry.
    pub capacity: JointCapacity,
    /// Its area, mm².
    pub area_mm2: f64,
    /// Strength over √f·area, MPa and mm².
    pub coefficient: f64,
    /// Expected strength of its concrete, MPa.
    pub concrete_mpa: f64,
    /// Depth and width of the old column, mm.
    pub column_mm: [f64; 2],
    /// Depth of the beams, m.
    pub beam_depth_m: f64,
}

/// What the strengths of one direction need at hand.
struct Work<'a> {
    sections: Sections<'a>,
    direction: Direction,
    levers_m: Vec<f64>,
    hinges: Vec<HingeStrength>,
    found: Vec<Finding>,
    joints: Vec<WallJoints>,
    nodes: Vec<NodeJoint>,
}

impl<'a> Work<'a> {
    /// Nothing looked at yet.
    fn new(sections: Sections<'a>, direction: Direction) -> Self {
        Self {
            sections,
            direction,
            levers_m: Vec::new(),
            hinges: Vec::new(),
            found: Vec::new(),
            joints: Vec::new(),
            nodes: Vec::new(),
        }
    }
}

impl Work<'_> {
    fn rules(&self) -> &dyn Rules {
        self.sections.rules
    }

    fn model(&self) -> &Model {
        self.sections.model
    }
}

/// Shear over drift of the elastic solution where that is a stiffness, otherwise a stand-in.
fn secant(carried: &Carried, stand_in_kn_m: f64) -> f64 {
    let secant = if carried.drift_m > 0.0 { carried.shear_kn / carried.drift_m } else { 0.0 };
    if secant > 1e-3 * stand_in_kn_m { secant } else { stand_in_kn_m }
}

/// The least of some strengths with its name; ties go to the first.
fn least<const N: usize>(options: [(f64, Failure); N]) -> (f64, Failure) {
    options
        .into_iter()
        .fold((f64::INFINITY, Failure::Flexure), |least, next| if next.0 < least.0 { next } else { least })
}
