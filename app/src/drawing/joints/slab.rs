//! A connecting slab: section, plan of a part, and the whole strip with what acts on it.

use super::{Figures, Forces, HEAD_PX, Offset, Scale, head, headed, length, measured, named_bar, spaced};
use crate::drawing::{Anchor, Drawing, Ink};
use sisterframe_core::connection::{ConnectionResult, Symbol};
use sisterframe_core::units::{Dimension, System, show};

/// Old beam, strip and new beam cut across the face.
pub fn section(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (b, h, g, t) = (m(Symbol::BeamWidth), m(Symbol::BeamDepth), m(Symbol::Gap), m(Symbol::Thickness));
    let (bn, hn, drop, bar) = (m(Symbol::NewBeamWidth), m(Symbol::NewBeamDepth), m(Symbol::Drop), m(Symbol::Bar));
    let total = b + g + bn;
    let deep = h.max(drop + hn);
    let px_m = ((width - 150.0) / total).min(240.0 / deep);
    let embedded = m(Symbol::Embedment);
    let bars = format!("{} {}", named_bar(bar, system), spaced(m(Symbol::Spacing), system));
    let lines = headed(&[bars, format!("embedded {}", length(embedded, system))], width - 16.0);
    let top = 17.0 + HEAD_PX * lines.len() as f64;
    let scale = Scale { left: 70.0, top, px_m };
    let mut drawing = Drawing::new(width, top + deep * px_m + 52.0);
    // The old floor goes on inwards.
    scale.rect(&mut drawing, Ink::Faint, [-30.0 / px_m, 0.0], [0.0, 0.13_f64.min(h)]);
    scale.rect(&mut drawing, Ink::Standing, [0.0, 0.0], [b, h]);
    scale.rect(&mut drawing, Ink::Added, [b, drop], [b + g, drop + t]);
    scale.rect(&mut drawing, Ink::Added, [b + g, drop], [total, drop + hn]);
    let layers = of.figure(Symbol::Layers).unwrap_or(1.0);
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
    head(&mut drawing, Ink::Figure, 8.0, &lines);
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

/// A part of the strip from above with the bars both ways.
pub fn part(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (b, g, bn) = (m(Symbol::BeamWidth), m(Symbol::Gap), m(Symbol::NewBeamWidth));
    let across = b + g + bn;
    let shown = m(Symbol::Length).min(2.4);
    let px_m = ((width - 90.0) / shown).min(220.0 / across);
    let scale = Scale { left: 20.0, top: 12.0, px_m };
    let mut drawing = Drawing::new(width, 12.0 + across * px_m + 28.0);
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
        "Plan of {} of the strip, which is {} long: bars across the joint {} {}, {along}.",
        length(shown, system),
        length(m(Symbol::Length), system),
        named_bar(m(Symbol::Bar), system),
        spaced(m(Symbol::Spacing), system)
    );
    drawing
}

/// The whole strip from above, cut free at the old joint and at the frame's axis.
pub fn whole(of: &ConnectionResult, width: f64, system: System) -> Drawing {
    let figures = Figures(of);
    let m = |symbol| figures.metres(symbol);
    let (long, g, bn, lever) = (m(Symbol::Length), m(Symbol::Gap), m(Symbol::NewBeamWidth), m(Symbol::Lever));
    let px_m = ((width - 140.0) / long).min(90.0 / (g + bn));
    let scale = Scale { left: (width - long * px_m) / 2.0 - 30.0, top: 84.0, px_m };
    let deep = (g + bn) * px_m;
    let mut drawing = Drawing::new(width, 84.0 + deep + 62.0);
    let (left, right) = (0.0, long);
    // The old beam goes on above, cut off.
    scale.rect(&mut drawing, Ink::Faint, [left, -14.0 / px_m], [right, 0.0]);
    scale.rect(&mut drawing, Ink::AddedFaint, [left, 0.0], [right, g]);
    scale.rect(&mut drawing, Ink::Added, [left, g], [right, g + bn]);
    scale.line(&mut drawing, Ink::CurveMid, [left, 0.0], [right, 0.0]);
    scale.line(&mut drawing, Ink::Axis, [left, lever], [right, lever]);
    let chord = m(Symbol::Arm) / 2.0;
    if let Some(mut body) = of.free_body() {
        // Chords are drawn clear of the shears, on their own lines of action.
        for own in body.acting.iter_mut().filter(|own| own.symbol == Symbol::Chord) {
            own.at_m[1] = -15.0 / px_m;
        }
        Forces::of(&body, &|[x, y]| scale.at(x + long / 2.0, y), true).draw(&mut drawing);
    }
    let force = figures.shown(Symbol::Force, system);
    let pull = figures.shown(Symbol::Chord, system);
    let [middle, joint] = scale.at(long / 2.0, 0.0);
    drawing.text(Ink::DemandText, [middle, 16.0], Anchor::Middle, format!("N = {force}"));
    for (sign, name) in [(-1.0, "presses"), (1.0, "pulls")] {
        let [x, _] = scale.at(long / 2.0 + sign * chord, 0.0);
        drawing.text(Ink::DemandText, [x, joint - 52.0], Anchor::Middle, format!("{name} {pull}"));
    }
    let below = joint + deep;
    drawing.text(Ink::DemandText, [middle, below + 22.0], Anchor::Middle, format!("N = {force}"));
    let [one, other] = [-1.0, 1.0].map(|sign| scale.at(long / 2.0 + sign * chord, 0.0)[0]);
    measured(&mut drawing, [one, below + 36.0], [other, below + 36.0], format!("z = {}", length(2.0 * chord, system)));
    let [end, axis] = scale.at(long, lever);
    measured(&mut drawing, [end + 8.0, joint], [end + 8.0, axis], format!("e = {}", length(lever, system)));
    drawing.words = format!(
        "Plan of the whole strip, {} long, cut free at the old joint and at the new frame's axis, {} from it. The joint passes          {force} along it and the frame the same the other way; their couple is turned back by the chords, {pull} pulling at          one end and pressing at the other, {} apart. Either sense is the same.",
        length(long, system),
        length(lever, system),
        length(2.0 * chord, system)
    );
    drawing
}
