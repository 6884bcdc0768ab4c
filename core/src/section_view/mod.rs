//! The section of a column or wall to look at: drawn to scale, with its strength under axial force and
//! bending by the law of every rule set, as it stands and with a scheme.
//!
//! Made on demand for one place, from the same sections the member strengths come from.

mod curve;
mod picture;

pub use curve::{Curve, Named, Special, interaction};
pub use picture::{BarDot, Hoop, Measured, Picture, Piece};

use crate::capacity::{Counted, column_section, wall_section};
use crate::evaluate::Upright;
use crate::fitting::Spot;
use crate::framing::wall_groups;
use crate::material::ConcreteLaw;
use crate::model::{Model, PanelOrigin};
use crate::project::{Direction, Materials, Project, Scheme};
use crate::rules::{self, Ruled, Rules};
use crate::second_opinion::ColumnForm;
use crate::section::Sense;
use crate::sections::Sections;
use crate::study::OptionKind;

/// A section as it stands and with an option's measures.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionView {
    /// Direction it bends along.
    pub direction: Direction,
    /// What stands there.
    pub upright: Upright,
    /// With the option's measures.
    pub now: Looked,
    /// As it stands; `None` where the option leaves it as it is, or nothing of the kind stands there.
    pub before: Option<Looked>,
}

/// A section in one state of the building.
#[derive(Clone, Debug, PartialEq)]
pub struct Looked {
    /// What is drawn.
    pub picture: Picture,
    /// Gravity load on it, kN.
    pub axial_kn: f64,
    /// Strengths by rule set, in the order of [`rules::all`].
    pub laws: Vec<Law>,
    /// What bending does not count of what is drawn.
    pub uncounted: Vec<Uncounted>,
}

/// Something drawn that bending strength does not count, or counts in part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Uncounted {
    /// A jacket whose bars stop at the floors.
    JacketStops,
    /// A jacket that neither closes round the column nor is anchored in it.
    JacketLoose,
    /// Wings that stretch across the direction.
    WingsAcross,
    /// An opening in a wall, which is taken off its shear only.
    Opening,
}

/// Strength by the law of a rule set.
#[derive(Clone, Debug, PartialEq)]
pub struct Law {
    /// Key of the rule set.
    pub key: &'static str,
    /// Its name.
    pub title: &'static str,
    /// Whether its concrete is a rectangular block; otherwise a parabola and a rectangle.
    pub block: bool,
    /// Expected strength of the old concrete, MPa.
    pub concrete_mpa: f64,
    /// Expected strength of the new concrete, MPa; none where none is counted.
    pub added_concrete_mpa: Option<f64>,
    /// Stress the old bars are counted at, MPa.
    pub bar_mpa: f64,
    /// Whether a short lap sets that.
    pub lap_governs: bool,
    /// On the moments of what old and new carry together; 1 where nothing is taken off.
    pub moment_factor: f64,
    /// Stress the bars of wings or a wall's web are counted at, MPa.
    pub added_bar_mpa: Option<f64>,
    /// Bending that compresses the side of higher ordinates, and of lower.
    pub senses: [Curve; 2],
    /// A second opinion on a column as built, with the same strengths of concrete and bars.
    pub second: Option<SecondOpinion>,
}

/// Strengths by closed forms that know neither rule set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondOpinion {
    /// Bending under the gravity load, kNm.
    pub moment_knm: f64,
    /// Shear under it, lower bound and mean of tests, kN.
    pub shear_kn: [f64; 2],
}

impl Law {
    /// Whether both senses are the same.
    pub fn is_symmetric(&self) -> bool {
        let [plus, minus] = &self.senses;
        let most = plus.points.iter().map(|point| point[0].abs()).fold(f64::MIN_POSITIVE, f64::max);
        plus.points.len() == minus.points.len()
            && plus.points.iter().zip(&minus.points).all(|(a, b)| (a[0] - b[0]).abs() < 1e-6 * most)
    }

    /// Curve of a sense.
    pub fn sense(&self, sense: Sense) -> &Curve {
        &self.senses[usize::from(sense == Sense::Minus)]
    }
}

/// The section at a place pointed at, bending along a direction; a bay bends along its own line.
/// `None` where neither column nor wall stands there, or its parts make no section.
pub fn section_view(project: &Project, kind: OptionKind, spot: Spot, direction: Direction) -> Option<SectionView> {
    let bare = Scheme { name: String::new(), note: String::new(), measures: Vec::new() };
    let scheme = match kind {
        OptionKind::Scheme { index } => project.schemes.get(index)?,
        OptionKind::AsItStands => &bare,
        OptionKind::Rebuild => return None,
    };
    let direction = match spot {
        Spot::Bay { direction, .. } => direction,
        _ => direction,
    };
    let materials = &project.building.materials;
    let model = Model::new(&project.building, scheme);
    let (upright, now) = looked(&model, materials, spot, direction)?;
    let standing = Model::new(&project.building, &bare);
    let before = looked(&standing, materials, spot, direction)
        .filter(|(own, before)| {
            std::mem::discriminant(own) == std::mem::discriminant(&upright) && before.picture != now.picture
        })
        .map(|(_, before)| before);
    Some(SectionView { direction, upright, now, before })
}

/// What stands at a place of a model, with its picture and strengths.
fn looked(model: &Model, materials: &Materials, spot: Spot, direction: Direction) -> Option<(Upright, Looked)> {
    let upright = upright(model, spot, direction)?;
    let mut laws = Vec::new();
    let mut axial_kn = 0.0;
    for set in rules::all() {
        let (law, counted) = law(model, materials, *set, upright, direction).ok()??;
        axial_kn = counted.axial_kn;
        laws.push(law);
    }
    let sections = Sections::new(model, materials, *rules::all().first()?).ok()?;
    let (picture, uncounted) = match upright {
        Upright::Column { line, end, storey } => {
            let column = model.column_on(direction, line, end, storey)?;
            let mut uncounted = Vec::new();
            uncounted.extend(
                column
                    .jacket
                    .as_ref()
                    .filter(|jacket| !jacket.acts())
                    .map(|jacket| if jacket.continuous { Uncounted::JacketLoose } else { Uncounted::JacketStops }),
            );
            if column.wings.as_ref().is_some_and(|wings| wings.spec.direction != direction) {
                uncounted.push(Uncounted::WingsAcross);
            }
            (picture::column(sections, column)?, uncounted)
        }
        Upright::Wall { line, bay, storey } => {
            let wall = wall_at(model, direction, line, bay, storey)?;
            let opens = wall.panels.iter().any(|panel| model.panels[*panel].opening.is_some());
            let uncounted = if opens { vec![Uncounted::Opening] } else { Vec::new() };
            (picture::wall(sections, direction, line, &wall)?, uncounted)
        }
    };
    Some((upright, Looked { picture, axial_kn, laws, uncounted }))
}

/// The column or wall at a place; a column inside a wall belongs to it.
fn upright(model: &Model, spot: Spot, direction: Direction) -> Option<Upright> {
    match spot {
        Spot::Column { x, y, storey } => {
            let (line, end) = match direction {
                Direction::X => (y, x),
                Direction::Y => (x, y),
            };
            let groups = wall_groups(model);
            let wall = groups.iter().find(|(along, own, group)| {
                (*along, *own, group.storey) == (direction, line, storey) && group.holds(end)
            });
            match wall {
                Some((.., group)) => Some(Upright::Wall { line, bay: group.first_bay, storey }),
                None => model.column_on(direction, line, end, storey).map(|_| Upright::Column { line, end, storey }),
            }
        }
        Spot::Bay { direction, line, bay, storey } => {
            wall_at(model, direction, line, bay, storey).map(|_| Upright::Wall { line, bay, storey })
        }
        Spot::Line { .. } | Spot::Storey { .. } => None,
    }
}

fn wall_at(
    model: &Model,
    direction: Direction,
    line: usize,
    bay: u32,
    storey: u32,
) -> Option<crate::framing::WallGroup> {
    let mut groups = wall_groups(model).into_iter();
    let found = groups.find(|(along, own, group)| {
        (*along, *own, group.storey) == (direction, line, storey) && (group.first_bay..=group.last_bay).contains(&bay)
    });
    found.map(|(.., group)| group)
}

/// Strength by a rule set; `None` where the parts make no section.
fn law(
    model: &Model,
    materials: &Materials,
    rules: &'static dyn Rules,
    upright: Upright,
    direction: Direction,
) -> Ruled<Option<(Law, Counted)>> {
    let sections = Sections::new(model, materials, rules)?;
    let mut second = None;
    let (counted, added_mpa) = match upright {
        Upright::Column { line, end, storey } => {
            let Some(column) = model.column_on(direction, line, end, storey) else { return Ok(None) };
            let jacket = column.jacket.as_ref().filter(|jacket| jacket.acts()).map(|jacket| jacket.concrete_mpa);
            let wings = column.wings.as_ref().filter(|wings| wings.spec.direction == direction);
            let added = jacket.or(wings.map(|wings| wings.spec.concrete_mpa));
            let counted = column_section(sections, direction, column)?;
            if column.jacket.is_none() && wings.is_none() {
                let clear_m = model.clear_height_m(column, direction);
                let form = ColumnForm::of(sections, column, direction, counted.bar_mpa, clear_m)?;
                second = Some(SecondOpinion { moment_knm: form.moment_knm(), shear_kn: form.shear_kn() });
            }
            (counted, added)
        }
        Upright::Wall { line, bay, storey } => {
            let Some(wall) = wall_at(model, direction, line, bay, storey) else { return Ok(None) };
            let added = wall.panels.iter().find_map(|panel| match &model.panels[*panel].origin {
                PanelOrigin::Infill(own) => Some(own.concrete_mpa),
                PanelOrigin::Existing(_) => None,
            });
            (wall_section(sections, direction, line, &wall)?, added)
        }
    };
    let Some(section) = &counted.section else { return Ok(None) };
    let senses =
        [Sense::Plus, Sense::Minus].map(|sense| interaction(section, sense, counted.axial_kn, counted.moment_factor));
    let law = Law {
        key: rules.key(),
        title: rules.title(),
        block: matches!(rules.concrete_law(sections.old_concrete_mpa())?, ConcreteLaw::Block { .. }),
        concrete_mpa: sections.old_concrete_mpa(),
        added_concrete_mpa: added_mpa.map(|mpa| sections.concrete_mpa(mpa)),
        bar_mpa: counted.bar_mpa,
        lap_governs: counted.lap_governs,
        moment_factor: counted.moment_factor,
        added_bar_mpa: counted.added_bar_mpa,
        senses,
        second,
    };
    Ok(Some((law, counted)))
}
