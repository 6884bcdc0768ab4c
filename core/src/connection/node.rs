//! Beam–column joints of strengthened columns, which stay as they were built.

use super::{Check, ConnectionKind, ConnectionResult, Context, Part, Remark, Symbol, written};
use crate::rules::{Provision, Ruled};
use crate::study::ForceBound;

/// The most used joint over a strengthened column, of every line and storey: the moments that beams or
/// columns bring, whichever are less, against its shear strength.
///
/// At a joint ΣM/j_d pulls through it by the beams' bars, less the columns' shear ΣM/h_s, so
/// V = ΣM·(1/j_d − 1/h_s) (equilibrium of the joint; DERIVED).
pub(super) fn joints(context: &Context<'_>) -> Ruled<Vec<ConnectionResult>> {
    let mut found: Vec<ConnectionResult> = Vec::new();
    for node in &context.strengths.nodes {
        let model = context.model;
        let framed = &context.framing.lines[node.line];
        let Some(column) = model.column_on(framed.direction, framed.line, node.end, node.storey) else { continue };
        let line = &model.lines(framed.direction)[framed.line].name;
        let mut of = context.blank(ConnectionKind::Joint, model.column_place(column), line, node.storey, [0; 2]);
        of.bound = ForceBound::OwnStrength;
        let capacity = &node.capacity;
        let moment = node.beams_knm.min(node.columns_knm);
        let demand = moment * (1.0 / capacity.lever_m - 1.0 / capacity.column_height_m).max(0.0);
        let [depth, width] = node.column_mm;
        of.give(&[
            (Symbol::ColumnDepth, depth / 1000.0),
            (Symbol::ColumnWidth, width / 1000.0),
            (Symbol::BeamDepth, 1000.0 * node.beam_depth_m),
            (Symbol::JointArea, node.area_mm2),
            (Symbol::ExpectedConcrete, node.concrete_mpa),
            (Symbol::StoreyHeight, capacity.column_height_m),
        ]);
        of.act(&[
            (Symbol::BeamMoments, node.beams_knm),
            (Symbol::ColumnMoments, node.columns_knm),
            (Symbol::JointLever, capacity.lever_m),
            (Symbol::Shear, demand),
        ]);
        let words = written(context.rules, Provision::Joint)?;
        of.checks.push(Check::new(Part::Joint, demand, capacity.strength_kn, 1.0, words).with(&[
            (Symbol::JointCoefficient, node.coefficient),
            (Symbol::ExpectedConcrete, node.concrete_mpa),
            (Symbol::JointArea, node.area_mm2),
        ]));
        of.remark(true, Remark::JointAsBuilt);
        let of = of.governed();
        let known = found.iter_mut().find(|own| own.line == of.line && own.storey == of.storey);
        match known {
            Some(known) if known.utilisation() < of.utilisation() => *known = of,
            Some(_) => {}
            None => found.push(of),
        }
    }
    Ok(found)
}
