//! Connections to scale: a connecting slab in section and plan, bars round an infill, wings and
//! jackets in section, a footing with the pressure under it.

use super::{Anchor, Drawing, Ink, Mark, Px};
use sisterframe_core::connection::{ConnectionKind, ConnectionResult, Part, Symbol};
use sisterframe_core::units::{Dimension, System, show};

/// A scale with its origin, px to a metre.
struct Scale {
    left: f64,
    top: f64,
    px_m: f64,
}

impl Scale {
    fn at(&self, x: f64, y: f64) -> [f64; 2] {
        [self.left + x * self.px_m, self.top + y * self.px_m]
    }

    fn rect(&self, drawing: &mut Drawing, ink: Ink, [x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) {
        drawing.rect(ink, self.at(x0, y0), self.at(x1, y1));
    }

    fn line(&self, drawing: &mut Drawing, ink: Ink, [x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) {
        drawing.line(ink, self.at(x0, y0), self.at(x1, y1));
    }
}

/// A figure in metres, whatever it is kept in; nothing where it is not there.
fn metres(of: &ConnectionResult, symbol: Symbol) -> f64 {
    let value = of.figure(symbol).unwrap_or(0.0);
    if symbol.dimension() == Dimension::Millimetres { value / 1000.0 } else { value }
}

fn length(value_m: f64, system: System) -> String {
    if value_m < 1.0 {
        show(1000.0 * value_m, Dimension::Millimetres, system)
    } else {
        show(value_m, Dimension::Metres, system)
    }
}

/// A dimension line with its figure, below or beside what it measures.
fn measured(drawing: &mut Drawing, from: [f64; 2], to: [f64; 2], text: String) {
    drawing.line(Ink::Thin, from, to);
    for end in [from, to] {
        drawing.line(Ink::Thin, [end[0] - 3.0, end[1] + 3.0], [end[0] + 3.0, end[1] - 3.0]);
    }
    if (from[1] - to[1]).abs() < 1.0 {
        drawing.text(Ink::Small, [(from[0] + to[0]) / 2.0, from[1] + 13.0], Anchor::Middle, text);
    } else {
        drawing.text(Ink::Small, [from[0] + 7.0, (from[1] + to[1]) / 2.0 + 4.0], Anchor::Start, text);
    }
}

/// The drawings of a connection; none where there is nothing to show to scale.
pub fn joint_drawings(of: &ConnectionResult, width: f64, system: System) -> Vec<(&'static str, Drawing)> {
    match of.kind {
        ConnectionKind::ConnectingSlab => {
            vec![
                ("Section", slab_section(of, width, system)),
                ("Plan of a part of the strip", slab_plan(of, width, system)),
            ]
        }
        ConnectionKind::Perimeter => vec![("Elevation of the panel", panel(of, width, system))],
        ConnectionKind::WingEdge | ConnectionKind::JacketFace => Vec::new(),
        ConnectionKind::Footing if of.figure(Symbol::FootingLength).is_some() => {
            vec![("Section along the force", footing(of, width, system))]
        }
        _ => Vec::new(),
    }
}

/// Old beam, strip and new beam cut across the face.
fn slab_section(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let m = |symbol| metres(of, symbol);
    let (b, h, g, t) = (m(Symbol::BeamWidth), m(Symbol::BeamDepth), m(Symbol::Gap), m(Symbol::Thickness));
    let (bn, hn, drop, bar) = (m(Symbol::NewBeamWidth), m(Symbol::NewBeamDepth), m(Symbol::Drop), m(Symbol::Bar));
    let total = b + g + bn;
    let deep = h.max(drop + hn);
    let px_m = ((width - 150.0) / total).min(240.0 / deep);
    let scale = Scale { left: 70.0, top: 34.0, px_m };
    let mut drawing = Drawing::new(width, 34.0 + deep * px_m + 52.0);
    // The old floor goes on inwards.
    scale.rect(&mut drawing, Ink::Faint, [-30.0 / px_m, 0.0], [0.0, 0.13_f64.min(h)]);
    scale.rect(&mut drawing, Ink::Standing, [0.0, 0.0], [b, h]);
    scale.rect(&mut drawing, Ink::Added, [b, drop], [b + g, drop + t]);
    scale.rect(&mut drawing, Ink::Added, [b + g, drop], [total, drop + hn]);
    let layers = of.figure(Symbol::Layers).unwrap_or(1.0);
    let embedded = m(Symbol::Embedment);
    let depths: &[f64] = if layers > 1.0 { &[0.25, 0.75] } else { &[0.5] };
    for part in depths {
        let y = drop + part * t;
        scale.line(&mut drawing, Ink::Curve, [b - embedded, y], [total - 0.04, y]);
    }
    for y in [drop + 0.04, drop + t - 0.04] {
        let spacing = m(Symbol::AlongSpacing).max(0.05);
        let mut x = b + spacing / 2.0;
        while x < b + g {
            drawing.circle(Ink::Plain, scale.at(x, y), (m(Symbol::AlongBar) * px_m / 2.0).max(1.6));
            x += spacing;
        }
    }
    // The joint that is checked.
    scale.line(&mut drawing, Ink::CurveMid, [b, drop - 0.02], [b, drop + m(Symbol::Contact) + 0.02]);
    let words = |name: &str, value: f64| format!("{name} {}", length(value, system));
    drawing.text(Ink::Small, scale.at(b / 2.0, deep + 0.0).offset(0.0, 14.0), Anchor::Middle, words("old beam", b));
    drawing.text(Ink::Small, scale.at(b + g + bn / 2.0, deep).offset(0.0, 14.0), Anchor::Middle, words("new beam", bn));
    let [left, _] = scale.at(b, 0.0);
    let [right, _] = scale.at(b + g, 0.0);
    let y = scale.at(0.0, deep)[1] + 26.0;
    measured(&mut drawing, [left, y], [right, y], words("clear", g));
    let [x, top] = scale.at(total, drop);
    measured(&mut drawing, [x + 10.0, top], [x + 10.0, top + t * px_m], length(t, system));
    let bars = format!(
        "{} {}, embedded {}",
        named_bar(bar, system),
        spaced(m(Symbol::Spacing), system),
        length(embedded, system)
    );
    drawing.text(Ink::Figure, [scale.left, 18.0], Anchor::Start, bars);
    drawing.words = format!(
        "Section across the connecting slab: old beam {} wide and {} deep, strip {} wide and {} thick, its top {} below that \
         of the old beam, new beam {} wide. Bars across the joint {} {} in {} {}, embedded {} in the old beam.",
        length(b, system),
        length(h, system),
        length(g, system),
        length(t, system),
        show(1000.0 * drop, Dimension::Millimetres, system),
        length(bn, system),
        named_bar(bar, system),
        spaced(m(Symbol::Spacing), system),
        if layers > 1.0 { "two" } else { "one" },
        if layers > 1.0 { "layers" } else { "layer" },
        length(embedded, system),
    );
    drawing
}

/// A part of the strip from above with the bars both ways and the force it passes.
fn slab_plan(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let m = |symbol| metres(of, symbol);
    let (b, g, bn) = (m(Symbol::BeamWidth), m(Symbol::Gap), m(Symbol::NewBeamWidth));
    let across = b + g + bn;
    let shown = m(Symbol::Length).min(2.4);
    let px_m = ((width - 90.0) / shown).min(220.0 / across);
    let scale = Scale { left: 20.0, top: 26.0, px_m };
    let mut drawing = Drawing::new(width, 26.0 + across * px_m + 40.0);
    scale.rect(&mut drawing, Ink::Standing, [0.0, 0.0], [shown, b]);
    scale.rect(&mut drawing, Ink::AddedFaint, [0.0, b], [shown, b + g]);
    scale.rect(&mut drawing, Ink::Added, [0.0, b + g], [shown, across]);
    let spacing = m(Symbol::Spacing).max(0.02);
    let mut x = spacing / 2.0;
    while x < shown {
        scale.line(&mut drawing, Ink::Curve, [x, b - m(Symbol::Embedment)], [x, across - 0.04]);
        x += spacing;
    }
    let spacing = m(Symbol::AlongSpacing).max(0.02);
    let mut y = b + spacing / 2.0;
    while y < b + g {
        scale.line(&mut drawing, Ink::Thin, [0.0, y], [shown, y]);
        y += spacing;
    }
    let middle = scale.at(shown / 2.0, 0.0)[0];
    let half = (shown * px_m * 0.2).max(20.0);
    let [_, upper] = scale.at(0.0, b);
    let [_, lower] = scale.at(0.0, b + g);
    drawing.arrow([middle - half, upper - 7.0], [middle + half, upper - 7.0], 3.0);
    drawing.arrow([middle + half, lower + 7.0], [middle - half, lower + 7.0], 3.0);
    let force = show(of.figure(Symbol::Force).unwrap_or(0.0), Dimension::Kilonewtons, system);
    let whole = length(m(Symbol::Length), system);
    drawing.text(Ink::DemandText, [scale.left, 17.0], Anchor::Start, format!("{force} over {whole} of joint"));
    let end = scale.at(shown, 0.0)[0] + 8.0;
    for (at, name) in [(b / 2.0, "old beam"), (b + g / 2.0, "strip"), (b + g + bn / 2.0, "new beam")] {
        drawing.text(Ink::Small, [end, scale.at(0.0, at)[1] + 4.0], Anchor::Start, name);
    }
    let along = format!(
        "along it {} {}, two layers",
        named_bar(m(Symbol::AlongBar), system),
        spaced(m(Symbol::AlongSpacing), system)
    );
    drawing.text(Ink::Small, [scale.left, scale.at(0.0, across)[1] + 18.0], Anchor::Start, along.clone());
    drawing.words = format!(
        "Plan of {} of the strip: bars across the joint {} {}, {along}. It passes {force} over a joint of {whole}; either \
         sense is the same.",
        length(shown, system),
        named_bar(m(Symbol::Bar), system),
        spaced(m(Symbol::Spacing), system)
    );
    drawing
}

/// A filled bay with the bars round it and the shears along its edges.
fn panel(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let m = |symbol| metres(of, symbol);
    let (long, high, embedded) = (m(Symbol::Length), m(Symbol::Height), m(Symbol::Embedment));
    let spacing = m(Symbol::Spacing).max(0.03);
    let edge = 0.45;
    let px_m = ((width - 60.0) / (long + 2.0 * edge)).min(230.0 / (high + 2.0 * edge));
    let scale = Scale { left: 30.0 + edge * px_m, top: 30.0 + edge * px_m, px_m };
    let mut drawing = Drawing::new(width, 30.0 + (high + 2.0 * edge) * px_m + 26.0);
    scale.rect(&mut drawing, Ink::Standing, [-edge, -edge], [long + edge, high + edge]);
    scale.rect(&mut drawing, Ink::Opening, [0.0, 0.0], [long, high]);
    scale.rect(&mut drawing, Ink::Added, [0.0, 0.0], [long, high]);
    let inside = 0.3;
    let mut x = spacing / 2.0;
    while x < long {
        scale.line(&mut drawing, Ink::Curve, [x, -embedded], [x, inside]);
        scale.line(&mut drawing, Ink::Curve, [x, high - inside], [x, high + embedded]);
        x += spacing;
    }
    let mut y = spacing / 2.0;
    while y < high {
        scale.line(&mut drawing, Ink::Curve, [-embedded, y], [inside, y]);
        scale.line(&mut drawing, Ink::Curve, [long - inside, y], [long + embedded, y]);
        y += spacing;
    }
    let half = long * px_m * 0.18;
    let [middle, centre] = scale.at(long / 2.0, high / 2.0);
    let (top, bottom) = (scale.at(0.0, inside)[1] + 12.0, scale.at(0.0, high - inside)[1] - 12.0);
    drawing.arrow([middle - half, top], [middle + half, top], 3.0);
    drawing.arrow([middle + half, bottom], [middle - half, bottom], 3.0);
    let force = show(of.figure(Symbol::Shear).unwrap_or(0.0), Dimension::Kilonewtons, system);
    let upright = show(of.figure(Symbol::UprightShear).unwrap_or(0.0), Dimension::Kilonewtons, system);
    drawing.text(Ink::DemandText, [middle, centre + 4.0], Anchor::Middle, force.clone());
    let bars = format!(
        "{} {}, embedded {}",
        named_bar(m(Symbol::Bar), system),
        spaced(spacing, system),
        length(embedded, system)
    );
    drawing.text(Ink::Figure, [30.0, 17.0], Anchor::Start, bars.clone());
    let clear = format!("{} × {} clear", length(long, system), length(high, system));
    drawing.text(Ink::Small, [middle, drawing.height - 6.0], Anchor::Middle, clear.clone());
    drawing.words = format!(
        "Elevation of the filled bay, {clear}: bars {bars} in beams and columns all round. It passes {force} from floor to \
         floor and {upright} along each column."
    );
    drawing
}

/// A footing cut along the force with the pressure under it.
fn footing(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let m = |symbol| metres(of, symbol);
    let (long, deep) = (m(Symbol::FootingLength), m(Symbol::FootingDepth));
    let bearing = of.check(Part::Bearing);
    let term = |symbol| bearing.and_then(|check| check.term(symbol)).unwrap_or(0.0);
    let (contact, load) = (term(Symbol::Contacted), term(Symbol::Compression));
    let pressure = bearing.map_or(0.0, |check| if check.strength > 0.0 { check.demand } else { 0.0 });
    let px_m = ((width - 110.0) / long).min(80.0);
    let scale = Scale { left: (width - long * px_m) / 2.0, top: 66.0, px_m };
    let mut drawing = Drawing::new(width, 66.0 + deep * px_m + 122.0);
    scale.rect(&mut drawing, Ink::Added, [0.0, 0.0], [long, deep]);
    let [left, base] = scale.at(0.0, deep);
    let right = left + long * px_m;
    drawing.line(Ink::Ground, [left - 20.0, base], [right + 20.0, base]);
    // The load where it acts.
    let at = left + (long / 2.0 + term(Symbol::Eccentricity)) * px_m;
    drawing.arrow([at, 26.0], [at, 64.0], 3.0);
    let force = show(load, Dimension::Kilonewtons, system);
    let eccentric = length(term(Symbol::Eccentricity), system);
    drawing.text(Ink::DemandText, [8.0, 16.0], Anchor::Start, format!("{force}, {eccentric} off the middle"));
    if pressure > 0.0 {
        let most = 62.0;
        // Falls to nothing where the contact ends, or to what is left at the other edge.
        let mean = load / (m(Symbol::Width) * long);
        let least = if contact < long { 0.0 } else { (2.0 * mean - pressure).max(0.0) };
        let far = right - contact * px_m;
        let depth = |value: f64| base + 4.0 + most * value / pressure;
        let outline = format!(
            "M{} {}L{} {}L{} {}L{} {}Z",
            Px(right),
            Px(base + 4.0),
            Px(right),
            Px(depth(pressure)),
            Px(far),
            Px(depth(least)),
            Px(far),
            Px(base + 4.0)
        );
        drawing.put(Ink::DemandTint, Mark::Path(outline));
        let words = show(pressure, Dimension::Kilopascals, system);
        drawing.text(Ink::DemandText, [right, depth(pressure) + 14.0], Anchor::End, words);
    }
    let below = base + 98.0;
    measured(
        &mut drawing,
        [left, below],
        [right, below],
        format!("{} × {} wide", length(long, system), length(m(Symbol::Width), system)),
    );
    drawing.words = format!(
        "Section of the footing, {} long and {} wide: {force} acts {eccentric} off its middle; it bears over {} with at most {}.",
        length(long, system),
        length(m(Symbol::Width), system),
        length(contact, system),
        show(pressure, Dimension::Kilopascals, system)
    );
    drawing
}

/// A bar by its diameter.
fn named_bar(diameter_m: f64, system: System) -> String {
    match system {
        System::Si => format!("D{:.0}", 1000.0 * diameter_m),
        System::Us => format!("bars of {}", show(1000.0 * diameter_m, Dimension::Millimetres, system)),
    }
}

fn spaced(spacing_m: f64, system: System) -> String {
    format!("at {}", show(1000.0 * spacing_m, Dimension::Millimetres, system))
}

/// A point moved a little.
trait Offset {
    fn offset(self, x: f64, y: f64) -> Self;
}

impl Offset for [f64; 2] {
    fn offset(self, x: f64, y: f64) -> Self {
        [self[0] + x, self[1] + y]
    }
}
