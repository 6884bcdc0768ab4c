//! Least dimensions usual for jackets and wing walls: told, never enforced.

use crate::finding::{Code, Finding};
use crate::material::Bar;
use crate::model::{Column, Model};
use crate::phrase::Phrase;
use crate::place::Place;
use crate::project::{Building, Direction, Jacket};
use crate::rules::source::clause_constants;
use crate::units::Dimension::{Megapascals, Millimetres, Share};

clause_constants! { CONSTANTS;
    /// Least thickness of a jacket, mm.
    JACKET_THICKNESS_MM: f64 = 100.0, Memory, "IS 15988:2013 8.5.1.1";
    /// Least diameter of a jacket's upright bars, mm.
    JACKET_BAR_MM: f64 = 12.0, Memory, "IS 15988:2013 8.5.1.1";
    /// Least diameter of a jacket's hoops, mm, and as a part of the upright bars'.
    JACKET_HOOP: [f64; 2] = [8.0, 1.0 / 3.0], Memory, "IS 15988:2013 8.5.1.1";
    /// Largest spacing of a jacket's hoops, mm; nor more than the jacket is thick.
    JACKET_SPACING_MM: f64 = 200.0, Memory, "IS 15988:2013 8.5.1.1";
    /// What new concrete of a jacket is stronger by than the old, MPa.
    JACKET_CONCRETE_MPA: f64 = 5.0, Memory, "IS 15988:2013 8.5.1.1";
    /// Length of a wing: over the column's depth, and least, mm.
    WING_LENGTH: [f64; 2] = [0.5, 500.0], Memory, "Japanese retrofit guideline of 2001, chapter on wing walls";
    /// Thickness of a wing: over the column's width, and least, mm.
    WING_THICKNESS: [f64; 2] = [1.0 / 3.0, 200.0], Memory, "Japanese retrofit guideline of 2001, chapter on wing walls";
    /// Least reinforcement of a wing each way.
    WING_STEEL: f64 = 0.0025, Memory, "Japanese retrofit guideline of 2001, chapter on wing walls";
    /// Least concrete of a wing, MPa; nor weaker than the old.
    WING_CONCRETE_MPA: f64 = 18.0, Memory, "Japanese retrofit guideline of 2001, chapter on wing walls";
}

/// A hair, so that a size that meets its least exactly is not told for rounding.
const HAIR: f64 = 1e-6;

/// What is below the usual least, once for every way.
pub fn findings(model: &Model, building: &Building) -> Vec<Finding> {
    let mut told: Vec<Phrase> = Vec::new();
    for column in &model.columns {
        let all = column.jacket.iter().flat_map(|jacket| of_jacket(jacket, building)).chain(of_wings(column, building));
        for one in all {
            if !told.contains(&one) {
                told.push(one);
            }
        }
    }
    told.into_iter().map(|detail| Finding::new(Code::BelowUsual, Place::Building, detail)).collect()
}

/// “Jackets 75 mm thick, usually 100 mm or more”.
fn short(what: &str, value: Phrase, usual: Phrase, which: &str) -> Phrase {
    let mut all = Phrase::from(format!("{what} "));
    all.extend([value, Phrase::from(", usually "), usual]);
    all.and(format!(" or {which}"))
}

fn mm(value: f64) -> Phrase {
    Phrase::default().size(value, Millimetres)
}

fn of_jacket(jacket: &Jacket, building: &Building) -> Vec<Phrase> {
    let mut all = Vec::new();
    let mut least = |what: &str, value: f64, usual: f64| {
        if value < usual - HAIR {
            all.push(short(what, mm(value), mm(usual), "more"));
        }
    };
    least("jacket thickness", jacket.thickness_mm, JACKET_THICKNESS_MM);
    least("jacket bars of", jacket.bar_mm, JACKET_BAR_MM);
    least("jacket hoops of", jacket.hoop_mm, JACKET_HOOP[0].max(JACKET_HOOP[1] * jacket.bar_mm));
    let spacing = JACKET_SPACING_MM.min(jacket.thickness_mm.max(JACKET_THICKNESS_MM));
    if jacket.hoop_spacing_mm > spacing + HAIR {
        all.push(short("jacket hoops every", mm(jacket.hoop_spacing_mm), mm(spacing), "less"));
    }
    let concrete = building.materials.concrete_mpa + JACKET_CONCRETE_MPA;
    if jacket.concrete_mpa < concrete - HAIR {
        let mpa = |value| Phrase::default().size(value, Megapascals);
        all.push(short("jacket concrete of", mpa(jacket.concrete_mpa), mpa(concrete), "more"));
    }
    all
}

fn of_wings(column: &Column, building: &Building) -> Vec<Phrase> {
    let Some(wings) = &column.wings else { return Vec::new() };
    let spec = &wings.spec;
    let (depth, width) = match spec.direction {
        Direction::X => (column.kind.x_mm, column.kind.y_mm),
        Direction::Y => (column.kind.y_mm, column.kind.x_mm),
    };
    let mut all = Vec::new();
    let length = WING_LENGTH[1].max(WING_LENGTH[0] * depth);
    if spec.length_mm < length - HAIR {
        all.push(short("wing length", mm(spec.length_mm), mm(length), "more"));
    }
    let thickness = WING_THICKNESS[1].max(WING_THICKNESS[0] * width);
    if spec.thickness_mm < thickness - HAIR {
        all.push(short("wing thickness", mm(spec.thickness_mm), mm(thickness), "more"));
    }
    let steel = 2.0 * Bar::round(spec.bar_mm).area_mm2 / (spec.bar_spacing_mm * spec.thickness_mm);
    if steel < WING_STEEL - HAIR {
        let share = |value| Phrase::default().show(value, Share);
        all.push(short("wing reinforcement of", share(steel), share(WING_STEEL), "more"));
    }
    let concrete = WING_CONCRETE_MPA.max(building.materials.concrete_mpa);
    if spec.concrete_mpa < concrete - HAIR {
        let mpa = |value| Phrase::default().size(value, Megapascals);
        all.push(short("wing concrete of", mpa(spec.concrete_mpa), mpa(concrete), "more"));
    }
    all
}
