//! What the building is, in sentences.

use super::{list, percent};
use crate::eras::assumed;
use crate::finding::Code;
use crate::project::{Building, Knowledge};
use crate::study::{OptionKind, OptionResult, Study};
use crate::units::{Dimension, System, grouped, show};

/// What stands there and what in it calls for care: the building as it stands, and where another option is chosen, that
/// it is not that one.
pub fn building(study: &Study, chosen: &OptionResult, system: System) -> String {
    let standing = study.options.iter().find(|option| option.kind == OptionKind::AsItStands).unwrap_or(chosen);
    let mut text = Vec::new();
    if matches!(chosen.kind, OptionKind::Scheme { .. }) {
        text.push(format!("This is the building as it stands, without scheme {}.", chosen.letter));
    }
    if study.floor_area_m2 > 0.0 {
        text.push(format!(
            "Spread over its floors, the building weighs {} in an earthquake.",
            show(study.weight_kn / study.floor_area_m2, Dimension::Kilopascals, system)
        ));
    }
    text.extend(stiffer_way(standing));
    let named: Vec<String> = [
        (Code::CaptiveColumn, "columns held short by sill walls"),
        (Code::SoftStorey, "a soft storey"),
        (Code::WeakStorey, "a weak storey"),
        (Code::Eccentric, "a centre of stiffness far from the centre of mass"),
        (Code::ColumnOverloaded, "columns with more axial load than they may carry"),
        (Code::ColumnsFirst, "columns weaker than their beams"),
        (Code::ColumnShearGoverned, "columns that shear before they bend"),
        (Code::SpliceGoverns, "bar laps too short to yield"),
        (Code::JointGoverns, "beam–column joints as the weakest part"),
        (Code::LowConcrete, "concrete weaker than most formulas were made for"),
        (Code::LongPlan, "a plan too long for floors to act as rigid"),
    ]
    .into_iter()
    .filter(|(code, _)| standing.findings.iter().any(|finding| finding.code == *code))
    .map(|(_, words)| words.to_owned())
    .collect();
    text.push(if named.is_empty() {
        "Nothing in its layout stands out as a weakness known from past earthquakes.".to_owned()
    } else {
        format!("What past earthquakes warn of is here too: {}.", list(&named))
    });
    if let Some(least) = standing
        .directions
        .iter()
        .flat_map(|result| result.storeys.iter().map(move |storey| (result, storey)))
        .min_by(|(_, one), (_, other)| one.ratio.total_cmp(&other.ratio))
    {
        let (result, storey) = least;
        text.push(format!(
            "Before any ductility, storey {} along {} is the weakest: its strength is {} of the elastic storey shear.",
            storey.storey,
            if result.along_x { "x" } else { "y" },
            percent(storey.ratio)
        ));
    }
    text.join(" ")
}

/// How sure one may be of what rests on the building as given: what it is known from and how much is assumed.
pub fn how_sure(building: &Building) -> String {
    let assumed = assumed(building, System::Si).len();
    let values = match assumed {
        1 => "one value is assumed, typical of its time".to_owned(),
        _ => format!("{assumed} values are assumed, typical of its time"),
    };
    let rather = "read the order of the schemes rather than the second decimal";
    match building.materials.knowledge {
        Knowledge::Assumed if assumed > 0 => format!(
            "How sure: not very. There are no drawings, and {values}; {rather}, and survey and test the building before \
             a choice rests on it."
        ),
        Knowledge::Assumed => format!(
            "How sure: not very. There are no drawings; {rather}, and survey and test the building before a choice rests \
             on it."
        ),
        Knowledge::Drawings => format!(
            "How sure: strengths and deformation limits rest on drawings and stated materials, not on tests of this \
             building{}, so {rather}; concrete, bars and footings must be checked on site.",
            if assumed > 0 { format!("; {values}") } else { String::new() }
        ),
        Knowledge::Tested => format!(
            "How sure: the building was checked on site and its materials tested{}; deformation limits are still means of \
             tests elsewhere, so {rather}.",
            if assumed > 0 { format!(", but {values}") } else { String::new() }
        ),
    }
}

/// Which way it is stiffer, by the periods.
fn stiffer_way(standing: &OptionResult) -> Option<String> {
    let [x, y] = standing.directions.as_slice() else { return None };
    let (soft, stiff) = if x.period_s >= y.period_s { (x, y) } else { (y, x) };
    let way = |along_x: bool| if along_x { "x" } else { "y" };
    let times = soft.period_s / stiff.period_s;
    Some(if times < 1.05 {
        format!("It swings in about {} s both ways.", grouped(soft.period_s, 2))
    } else {
        format!(
            "It swings in {} s along {} and, stiffer, in {} s along {}.",
            grouped(soft.period_s, 2),
            way(soft.along_x),
            grouped(stiff.period_s, 2),
            way(stiff.along_x)
        )
    })
}
