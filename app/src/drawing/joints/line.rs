//! A line along which the floor hands over its force: the collector's force, and the old floor.

use super::{Figures, Forces, Scale, length, measured};
use crate::drawing::{Anchor, Drawing, Ink, Mark, closed};
use sisterframe_core::connection::{ConnectionResult, Stretch, Symbol};
use sisterframe_core::units::{Dimension, System, show};

/// Height of the force diagram, px.
const DIAGRAM_PX: f64 = 54.0;
/// Breadth of the floor shown beside a line, m, at most, and px.
const FLOOR: (f64, f64) = (1.5, 34.0);

/// Room left beside a line, px.
const BESIDE_PX: f64 = 20.0;

/// Length of the line, m, and its scale; none where nothing of it is known.
fn extent(of: &ConnectionResult, width: f64) -> Option<(f64, f64)> {
    let whole: f64 = of.stretches.iter().map(|own| own.length_m).sum();
    (whole > 0.0).then_some((whole, (width - 2.0 * BESIDE_PX) / whole))
}

/// Bays with where they begin, m.
fn placed(of: &ConnectionResult) -> impl Iterator<Item = (f64, &Stretch)> {
    let mut from = 0.0;
    of.stretches.iter().map(move |own| {
        let at = from;
        from += own.length_m;
        (at, own)
    })
}

fn kilonewtons(value: f64, system: System) -> String {
    show(value, Dimension::Kilonewtons, system)
}

/// The bays that take the force, in words.
fn taking(of: &ConnectionResult) -> String {
    let bays: Vec<String> = of.stretches.iter().filter(|own| own.takes).map(|own| own.bay.to_string()).collect();
    format!("{} {}", if bays.len() == 1 { "bay" } else { "bays" }, bays.join(", "))
}

/// Bays numbered and measured under a drawing of a line.
fn bays(drawing: &mut Drawing, of: &ConnectionResult, scale: &Scale, y: f64, system: System) {
    for (from, own) in placed(of) {
        let ends = [from, from + own.length_m].map(|x| [scale.at(x, 0.0)[0], y]);
        let name = format!("{}", own.bay);
        let text = length(own.length_m, system);
        // A short bay keeps its number only.
        let room = ends[1][0] - ends[0][0] > 7.0 * text.chars().count() as f64 + 4.0;
        measured(drawing, ends[0], ends[1], if room { text } else { String::new() });
        drawing.text(Ink::Small, [(ends[0][0] + ends[1][0]) / 2.0, y + 27.0], Anchor::Middle, name);
    }
}

/// Elevation of the line at a floor: what the floor brings, what is taken, and the force in between.
pub fn along(of: &ConnectionResult, width: f64, system: System) -> Option<Drawing> {
    let figures = Figures(of);
    let (whole, px_m) = extent(of, width)?;
    let beam = figures.metres(Symbol::BeamDepth).max(0.3);
    let scale = Scale { left: BESIDE_PX, top: 62.0, px_m };
    let below = scale.at(0.0, beam)[1];
    let wall = 24.0;
    let base = below + wall + 40.0 + DIAGRAM_PX;
    let mut drawing = Drawing::new(width, base + DIAGRAM_PX + 66.0);
    for (from, own) in placed(of) {
        let [left, top] = scale.at(from, 0.0);
        let right = scale.at(from + own.length_m, 0.0)[0];
        drawing.rect(Ink::Standing, [left, top], [right, below]);
        if own.takes {
            drawing.rect(Ink::Added, [left, below], [right, below + wall]);
        }
    }
    let forces = of.free_body();
    if let Some(body) = &forces {
        // What comes in is drawn above the beam, what goes out below it.
        let (brought, taken): (Vec<_>, Vec<_>) = body.acting.iter().copied().partition(|own| own.force_kn[0] > 0.0);
        for (acting, y) in [(brought, 62.0), (taken, below + wall)] {
            let middle = [whole / 2.0, if y < below { 1.0 } else { -1.0 }];
            let at = |[x, _]: [f64; 2]| [scale.at(x, 0.0)[0], y];
            Forces { acting: &acting, at: &at, down: true, middle: Some([scale.at(middle[0], 0.0)[0], y + middle[1]]) }
                .draw(&mut drawing);
        }
    }
    let force = figures.shown(Symbol::Force, system);
    drawing.text(Ink::DemandText, [BESIDE_PX, 17.0], Anchor::Start, format!("the floor brings {force}"));
    let most = of.stretches.iter().flat_map(|own| own.axial_kn).fold(0.0, |most: f64, own| most.max(own.abs()));
    if most > 0.0 {
        let at = |x: f64, force: f64| [scale.at(x, 0.0)[0], base - DIAGRAM_PX * force / most];
        let mut outline = vec![at(0.0, 0.0)];
        for (from, own) in placed(of) {
            outline.push(at(from, own.axial_kn[0]));
            outline.push(at(from + own.length_m, own.axial_kn[1]));
        }
        outline.push(at(whole, 0.0));
        drawing.put(Ink::DemandTint, Mark::Path(closed(&outline)));
        drawing.line(Ink::Thin, at(0.0, 0.0), at(whole, 0.0));
        let own = figures.0.figure(Symbol::CollectorForce).unwrap_or(0.0);
        let ends = placed(of)
            .filter(|(_, own)| !own.takes)
            .flat_map(|(from, own)| [(from, own.axial_kn[0]), (from + own.length_m, own.axial_kn[1])]);
        let marked = ends.max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()));
        if let Some((x, force)) = marked {
            let [x, y] = at(x, force);
            drawing.line(Ink::CurveMid, [x, base], [x, y]);
            drawing.circle(Ink::Plain, [x, y], 3.0);
            let (anchor, side) = if x > width / 2.0 { (Anchor::End, 8.0) } else { (Anchor::Start, -8.0) };
            let up = if force < 0.0 { 19.0 } else { -9.0 };
            drawing.text(Ink::Figure, [x + side, y + up], anchor, format!("largest {}", kilonewtons(own, system)));
        }
    }
    bays(&mut drawing, of, &scale, base + DIAGRAM_PX + 30.0, system);
    drawing.words = format!(
        "Elevation of the line, {} long. The floor brings {force} along its length; {} takes it out. The largest force in a beam \
         that has to collect is {}, in bay {}.",
        length(whole, system),
        taking(of),
        figures.shown(Symbol::CollectorForce, system),
        of.bays[0]
    );
    Some(drawing)
}

/// The old floor along the line from above.
pub fn edge(of: &ConnectionResult, width: f64, system: System) -> Option<Drawing> {
    let figures = Figures(of);
    let (whole, px_m) = extent(of, width)?;
    let strip = (FLOOR.0 * px_m).max(FLOOR.1);
    let beam = (0.3 * px_m).max(16.0);
    let top = 30.0;
    let line = top + strip;
    let scale = Scale { left: BESIDE_PX, top: line, px_m };
    let base = line + beam + strip;
    let mut drawing = Drawing::new(width, base + 64.0);
    for (from, own) in placed(of) {
        let [left, right] = [from, from + own.length_m].map(|x| scale.at(x, 0.0)[0]);
        let [lower, higher] = own.floor_beside;
        if higher {
            drawing.rect(Ink::Faint, [left, top], [right, line]);
        }
        if lower {
            drawing.rect(Ink::Faint, [left, line + beam], [right, base]);
        }
        drawing.rect(if own.takes { Ink::Added } else { Ink::Standing }, [left, line], [right, line + beam]);
        if own.taken_kn > 0.0 {
            let (middle, y) = ((left + right) / 2.0, line + beam / 2.0);
            let half = (0.3 * (right - left)).min(40.0);
            drawing.arrow([middle + half, y], [middle - half, y], 3.0);
        }
        // Each side that has a floor brings its part.
        let sides = [higher.then_some(line - 9.0), lower.then_some(line + beam + 9.0)];
        let count = ((right - left) / 48.0).round().max(1.0);
        for y in sides.into_iter().flatten() {
            for place in 0..count as usize {
                let middle = left + (place as f64 + 0.5) / count * (right - left);
                let half = (0.3 * (right - left) / count).min(15.0);
                drawing.arrow([middle - half, y], [middle + half, y], 2.5);
            }
        }
    }
    let (force, flow) = (figures.shown(Symbol::Force, system), figures.shown(Symbol::ShearFlow, system));
    drawing.text(Ink::DemandText, [BESIDE_PX, 17.0], Anchor::Start, format!("{force}, {flow} along each side"));
    bays(&mut drawing, of, &scale, base + 18.0, system);
    drawing.words = format!(
        "Plan along the line, {} long, with the old floor, {} thick, beside it: it hands over {force}, {flow} along each side that \
         has a floor, {} in all; {} takes it.",
        length(whole, system),
        figures.shown(Symbol::Thickness, system),
        length(figures.metres(Symbol::LineLength), system),
        taking(of)
    );
    Some(drawing)
}
