//! Strength of every vertical member of a model, storey by storey, in one direction.
//!
//! Expected strengths of old and new alike, bending limited by joints, beams, laps and
//! anchorage, shear by the rule set; walls by shear, bending, rocking and the bars round
//! them; external frames by their own mechanism, their footings and their slabs.

use crate::capacity::{BeamShear, NodeJoint, Sway, WallJoints};
use crate::column::Backbone;
use crate::eras;
use crate::failure::{Failure, Way};
use crate::finding::{Code, Finding};
use crate::framing::Framing;
use crate::hinge::HingeStrength;
use crate::model::{Model, Panel};
use crate::phrase::Phrase;
use crate::place::{Class, Place};
use crate::project::{Building, Direction, Knowledge};
use crate::response::Response;
use crate::storey::Spring;
use crate::units::{Dimension, System};

/// Concrete strengths between which most formulas were made, MPa (common practice, no source).
const LEAST_CONCRETE_MPA: f64 = 10.0;
const MOST_CONCRETE_MPA: f64 = 60.0;

/// Shear a member carries under a response.
#[derive(Clone, Debug, PartialEq)]
pub struct Carried {
    /// Which member.
    pub member: MemberId,
    /// Its class.
    pub class: Class,
    /// Its shear, kN.
    pub shear_kn: f64,
    /// Storey drift at its line, m.
    pub drift_m: f64,
}

/// A vertical member of a storey.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MemberId {
    /// A column: line among the framed lines, place along it.
    Column {
        /// Line among the framed lines.
        line: usize,
        /// Place along the line.
        end: usize,
    },
    /// A wall: line among the framed lines, place among its walls.
    Wall {
        /// Line among the framed lines.
        line: usize,
        /// Place among its walls.
        wall: usize,
    },
    /// A masonry panel: line among the framed lines, place among its masonry.
    Masonry {
        /// Line among the framed lines.
        line: usize,
        /// Place among its masonry.
        panel: usize,
    },
    /// An external frame as a whole.
    Frame {
        /// Place among the external frames.
        frame: usize,
    },
}

/// What every member carries, by storey, always in the same order.
pub fn in_order(model: &Model, framing: &Framing, direction: Direction, response: &Response) -> Vec<Vec<Carried>> {
    let mut storeys: Vec<Vec<Carried>> = vec![Vec::new(); model.floors.len()];
    for (index, line) in framing.lines.iter().enumerate().filter(|(_, line)| line.direction == direction) {
        let forces = line.condensed.recover(&response.lines[index].displacement_m);
        let ordinate = model.lines(direction)[line.line].at_m;
        for (s, storey) in storeys.iter_mut().enumerate() {
            let drift_m = response.drift_at(s, direction, ordinate);
            for end in 0..model.along(direction).len() {
                let inside = line.walls.iter().any(|wall| wall.storey as usize == s + 1 && wall.holds(end));
                if let (Some(column), false) = (model.column_on(direction, line.line, end, s as u32 + 1), inside) {
                    storey.push(Carried {
                        member: MemberId::Column { line: index, end },
                        class: column.class(),
                        shear_kn: forces.column(s, end).shear_kn,
                        drift_m,
                    });
                }
            }
            for (wall, group) in line.walls.iter().enumerate().filter(|(_, group)| group.storey as usize == s + 1) {
                storey.push(Carried {
                    member: MemberId::Wall { line: index, wall },
                    class: group.class,
                    shear_kn: forces.walls[wall].shear_kn,
                    drift_m,
                });
            }
            for (panel, &place) in line.masonry.iter().enumerate() {
                if model.masonry[place].storey as usize == s + 1 {
                    storey.push(Carried {
                        member: MemberId::Masonry { line: index, panel },
                        class: Class::AsBuilt,
                        shear_kn: forces.storey_springs_kn[panel],
                        drift_m,
                    });
                }
            }
        }
    }
    for (index, frame) in model.frames.iter().enumerate().filter(|(_, frame)| frame.direction == direction) {
        for (s, storey) in storeys.iter_mut().enumerate().take(frame.storeys as usize) {
            storey.push(Carried {
                member: MemberId::Frame { frame: index },
                class: Class::New,
                shear_kn: response.linked[index].storey_shear_kn[s],
                drift_m: response.drift_at(s, direction, frame.ordinate_m),
            });
        }
    }
    storeys
}

/// Strength of a member in one sense of the storey's drift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Shear at which it governs, kN.
    pub strength_kn: f64,
    /// Shear at its bending mechanism, kN.
    pub flexural_kn: f64,
    /// Shear capacity, kN.
    pub shear_kn: f64,
    /// How it fails.
    pub failure: Failure,
    /// Shear at which its stiffness falls, kN; the strength itself where it does not.
    pub cracking_kn: f64,
    /// Storey drift at which it reaches its strength, mm.
    pub yield_drift_mm: f64,
    /// Storey drift at which it is lost, mm.
    pub limit_drift_mm: f64,
    /// Of a column, its whole line of shear over storey drift.
    pub backbone: Option<Backbone>,
    /// Of a column, its shear strength as it is checked where shear is force-controlled, kN.
    pub checked_shear_kn: Option<f64>,
    /// What it would fail at in each way that is computed; of beams and joint only where they hold its bending short.
    pub ways: [Option<Way>; 5],
}

/// A member with its strength in both senses.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// Where.
    pub place: Place,
    /// Its class.
    pub class: Class,
    /// Its line.
    pub line: String,
    /// Gravity load, kN.
    pub axial_kn: f64,
    /// Clear height, m.
    pub clear_height_m: f64,
    /// Secant stiffness in the storey, kN/m.
    pub stiffness_kn_m: f64,
    /// Strength towards higher and towards lower ordinates.
    pub senses: [Strength; 2],
    /// Of a column, moments of the columns over those of the beams at the joint on top, in the worse sense; none without
    /// beams. Of an external frame, at its joint on top that has most beams.
    pub joint_ratio: Option<f64>,
    /// Of a column, what the beams above bring it in axial force as the frame sways in either sense, kN, compression
    /// positive.
    pub overturning_kn: Option<[f64; 2]>,
}

impl Member {
    /// The weaker sense.
    pub fn weaker(&self) -> &Strength {
        let [one, other] = &self.senses;
        if other.strength_kn < one.strength_kn { other } else { one }
    }

    /// The member as a spring of the storey in a sense.
    pub fn spring(&self, sense: usize) -> Spring {
        let strength = &self.senses[sense];
        Spring {
            stiffness_kn_m: self.stiffness_kn_m,
            cracking_kn: strength.cracking_kn,
            strength_kn: strength.strength_kn,
            full_drift_mm: strength.yield_drift_mm,
            limit_drift_mm: strength.limit_drift_mm,
        }
    }
}

/// Strengths of all members in a direction.
#[derive(Clone, Debug, PartialEq)]
pub struct Strengths {
    /// By storey, in the order of [`in_order`].
    pub storeys: Vec<Vec<Member>>,
    /// Places of plastic deformation in the order of the lines.
    pub hinges: Vec<HingeStrength>,
    /// Joints of walls with new panels, by storey and line.
    pub joints: Vec<WallJoints>,
    /// Beam–column joints over strengthened columns.
    pub nodes: Vec<NodeJoint>,
    /// Columns against beams at the joints over each storey; none where no beams frame in.
    pub sways: Vec<Option<Sway>>,
    /// Beams of the direction in shear, those over and under walls apart.
    pub beams: Vec<BeamShear>,
    pub(crate) found: Vec<Finding>,
}

/// What can be said of a model before anything is computed.
pub fn findings(model: &Model, building: &Building) -> Vec<Finding> {
    let mut found = Vec::new();
    let mut say = |code, place, detail: Phrase| found.push(Finding::new(code, place, detail));
    for direction in Direction::BOTH {
        let index = direction.index();
        let captive: Vec<&crate::model::Column> =
            model.columns.iter().filter(|column| column.sill_m[index] > 0.0).collect();
        if !captive.is_empty() {
            let mut lines: Vec<&str> = model
                .lines(direction)
                .iter()
                .enumerate()
                .filter(|(line, _)| captive.iter().any(|column| on_line(column, direction) == *line))
                .map(|(_, line)| line.name.as_str())
                .collect();
            lines.dedup();
            let detail = format!("{} columns on line {}", captive.len(), lines.join(", "));
            say(Code::CaptiveColumn, Place::Building, detail.into());
        }
    }
    let full = model.masonry.iter().filter(|panel| panel.kind.sill_mm.is_none()).count();
    if full > 0 {
        let code = if model.masonry_counts { Code::MasonryCounted } else { Code::MasonryIgnored };
        say(code, Place::Building, format!("{full} panel{}", if full == 1 { "" } else { "s" }).into());
    }
    if building.materials.concrete_mpa < LEAST_CONCRETE_MPA {
        say(Code::LowConcrete, Place::Building, Phrase::default().size(LEAST_CONCRETE_MPA, Dimension::Megapascals));
    }
    if building.materials.concrete_mpa > MOST_CONCRETE_MPA {
        say(Code::HighConcrete, Place::Building, Phrase::default().size(MOST_CONCRETE_MPA, Dimension::Megapascals));
    }
    let assumed = eras::assumed(building, System::Si);
    if !assumed.is_empty() && building.materials.knowledge != Knowledge::Assumed {
        let features: Vec<String> = assumed.iter().map(|own| own.feature.label().to_lowercase()).collect();
        say(Code::TypicalNotKnown, Place::Building, features.join(", ").into());
    }
    if model.floors.len() > 8 {
        say(Code::TallBuilding, Place::Building, Phrase::default());
    }
    if let Some(floor) = model.floors.first() {
        let (x, y) = (floor.bounds.across(Direction::Y), floor.bounds.across(Direction::X));
        if x.max(y) > 3.0 * x.min(y) {
            say(Code::LongPlan, Place::Building, Phrase::default());
        }
    }
    for (direction, line, bay, [first, last]) in stacked_openings(model) {
        let name = &model.lines(direction)[line].name;
        let detail = format!("line {name}, bay {bay}, storeys {first}–{last}");
        say(Code::StackedOpenings, model.panel_place(direction, line, bay, first), detail.into());
    }
    for panel in &model.panels {
        let place = model.panel_place(panel.direction, panel.line, panel.bay, panel.storey);
        if !crate::openings::panel_opening(model, panel).is_wall {
            say(Code::OpeningTooLarge, place.clone(), place.to_string().into());
        }
        let goes_on = panel.storey as usize == model.floors.len()
            || model.panel_at(panel.direction, panel.line, panel.bay, panel.storey + 1).is_some();
        if !goes_on {
            let line = &model.lines(panel.direction)[panel.line].name;
            say(Code::WallStops, place, format!("line {line}, above storey {}", panel.storey).into());
        }
    }
    let loose = |column: &&crate::model::Column| column.jacket.as_ref().is_some_and(|own| !own.holds());
    let loose = model.columns.iter().filter(loose).count();
    if loose > 0 {
        say(
            Code::JacketUnanchored,
            Place::Building,
            format!("{loose} column{}", if loose == 1 { "" } else { "s" }).into(),
        );
    }
    if model.columns.iter().any(|column| column.jacket.is_some()) {
        say(Code::JointsAsBuilt, Place::Building, Phrase::default());
    }
    if model.columns.iter().filter_map(|column| column.wings.as_ref()).any(|wings| wings.spec.embedment_mm == 0.0) {
        say(Code::WingBarsNotDeveloped, Place::Building, Phrase::default());
    }
    let winged = model.columns.iter().filter(|column| column.wings.is_some()).count();
    let infills = model.panels.iter().filter(|panel| panel.class() == Class::New).count();
    if winged + infills > 0 {
        let counted = |count: usize, one: &str, many: &str| match count {
            0 => None,
            1 => Some(format!("1 {one}")),
            _ => Some(format!("{count} {many}")),
        };
        let filled = counted(infills, "bay filled", "bays filled");
        let winged = counted(winged, "column with wings", "columns with wings");
        let detail: Vec<String> = [filled, winged].into_iter().flatten().collect();
        say(Code::DaylightLost, Place::Building, detail.join(", ").into());
    }
    for frame in &model.frames {
        say(Code::SettlementJoint, Place::Footing { line: frame.spec.face.clone() }, Phrase::default());
    }
    found.extend(crate::measure::minimums::findings(model, building));
    found
}

/// Runs of storeys in which walls of a bay have openings above one another.
fn stacked_openings(model: &Model) -> Vec<(Direction, usize, u32, [u32; 2])> {
    let open = |panel: &Panel, storey: u32| {
        let other = model.panel_at(panel.direction, panel.line, panel.bay, storey);
        other.is_some_and(|other| other.opening.is_some())
    };
    let starts = model.panels.iter().filter(|panel| {
        panel.opening.is_some() && open(panel, panel.storey + 1) && !open(panel, panel.storey.saturating_sub(1))
    });
    starts
        .map(|panel| {
            let last = (panel.storey..).take_while(|storey| open(panel, *storey)).last().unwrap_or(panel.storey);
            (panel.direction, panel.line, panel.bay, [panel.storey, last])
        })
        .collect()
}

/// Place among its like of the line in a direction that a column is on.
fn on_line(column: &crate::model::Column, direction: Direction) -> usize {
    match direction {
        Direction::X => column.iy,
        Direction::Y => column.ix,
    }
}
