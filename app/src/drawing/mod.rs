//! Drawings as plain values: shapes in a few kinds of ink, printed as SVG.
//!
//! A drawing is built from the model and the results without touching the page, so that it
//! can be tested natively, shown, printed and exported alike. Ink says what a shape stands
//! for; the style sheet gives each ink its colour, so one meaning keeps one colour.

mod bars;
mod elevation;
mod flow;
mod free_body;
mod ground_plan;
mod joints;
mod plan;
mod room_calendar;
mod room_plan;
mod rows;
mod section;
mod stream;
mod sway;
mod thumbnail;
mod twist;
mod week_plan;

pub use bars::{range_bar, ratio_bar, share_bar, size_bar};
pub use elevation::{Elevation, Frames, LINE_HEAD_PX, line_elevation};
pub use flow::{Flow, FlowStorey};
pub use free_body::{Body, Term, bodies, free_body};
pub use ground_plan::{PlanLook, ground_plan};
pub use joints::joint_drawings;
pub use plan::slab_strip;
pub use room_calendar::room_calendar;
pub use room_plan::room_plan;
pub use rows::Rows;
pub use section::section;
pub use stream::{Look, stream};
pub use sway::{MemberMark, MemberState, SWAY_MARGIN_PX, Sway, sway, sway_lines};
pub use thumbnail::{Thumbnail, thumbnails};
pub use twist::{TwistLine, twist};
pub use week_plan::WeekPlan;

use sisterframe_core::fitting::Spot;
use sisterframe_core::works::Room;
use std::fmt::Write;

/// The 45° hatches every drawing on the page refers to: added work, and old and new in one.
///
/// Repeating gradients rather than tiles: they stay lines at every size, leave no seam
/// between neighbours, and a browser that prints tiles may take minutes over them.
pub const HATCHES: &str = "<defs>\
<linearGradient id=\"hatch-added\" gradientUnits=\"userSpaceOnUse\" x1=\"0\" y1=\"0\" x2=\"2.5\" y2=\"2.5\" \
spreadMethod=\"repeat\"><stop class=\"hatch-ground\" offset=\"0.56\"/><stop class=\"hatch-line\" offset=\"0.7\"/>\
<stop class=\"hatch-line\" offset=\"0.86\"/><stop class=\"hatch-ground\" offset=\"1\"/></linearGradient>\
<linearGradient id=\"hatch-strengthened\" gradientUnits=\"userSpaceOnUse\" x1=\"0\" y1=\"0\" x2=\"3.5\" y2=\"3.5\" \
spreadMethod=\"repeat\"><stop class=\"hatch-ground-old\" offset=\"0.55\"/><stop class=\"hatch-line-old\" offset=\"0.65\"/>\
<stop class=\"hatch-line-old\" offset=\"0.9\"/><stop class=\"hatch-ground-old\" offset=\"1\"/></linearGradient></defs>";

/// What a shape stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// Concrete of the building as it stands.
    Standing,
    /// The same, drawn faintly behind something else.
    Faint,
    /// An existing concrete wall seen from the front.
    Wall,
    /// Masonry, sills included.
    Masonry,
    /// An opening or a gap: bare paper.
    Opening,
    /// Added work, hatched.
    Added,
    /// Added work too thin on the drawing for a hatch.
    AddedThin,
    /// Added work drawn faintly behind something else.
    AddedFaint,
    /// A member that is old and new in one.
    Strengthened,
    /// What a new building would put up.
    Rebuilt,
    /// The ground.
    Ground,
    /// Demand and force, filled.
    Demand,
    /// Force on its way, as a broad tint.
    DemandTint,
    /// A force line.
    DemandLine,
    /// What pushes back.
    Reversed,
    /// Ink of the sheet: bars, ticks, curves.
    Plain,
    /// The empty part of a bar.
    Track,
    /// A thin auxiliary line.
    Thin,
    /// Nothing to see: the part that can be clicked.
    Touch,
    /// The same, picked.
    Touched,
    /// A grid line.
    Axis,
    /// An edge of a beam above.
    Edge,
    /// A sill one looks over.
    Sill,
    /// The outline of a plan at rest.
    Outline,
    /// The same as it would stand.
    Moved,
    /// Text on something filled.
    OnPlain,
    /// A curve looked at.
    Curve,
    /// Another curve beside it.
    CurveMid,
    /// An idealised curve.
    CurveThin,
    /// Grid lines.
    Hairline,
    /// Where a limit is.
    Dotted,
    /// A mark with the paper showing in it.
    Ring,
    /// What is pointed at.
    Pointed,
    /// Ordinary text.
    Text,
    /// Text that carries a figure.
    Figure,
    /// Secondary text.
    Small,
    /// Text of a force.
    DemandText,
}

impl Ink {
    /// Its class in the style sheet.
    const fn class(self) -> &'static str {
        match self {
            Self::Standing => "d-standing",
            Self::Faint => "d-faint",
            Self::Wall => "d-wall",
            Self::Masonry => "d-masonry",
            Self::Opening => "d-opening",
            Self::Added => "d-added",
            Self::AddedThin => "d-added-thin",
            Self::AddedFaint => "d-added-faint",
            Self::Strengthened => "d-strengthened",
            Self::Rebuilt => "d-rebuilt",
            Self::Ground => "d-ground",
            Self::Demand => "d-demand",
            Self::DemandTint => "d-demand-tint",
            Self::DemandLine => "d-demand-line",
            Self::Reversed => "d-reversed",
            Self::Plain => "d-plain",
            Self::Track => "d-track",
            Self::Thin => "d-thin",
            Self::Touch => "d-touch",
            Self::Touched => "d-touched",
            Self::Axis => "d-axis",
            Self::Edge => "d-edge",
            Self::Sill => "d-sill",
            Self::Outline => "d-outline",
            Self::Moved => "d-moved",
            Self::OnPlain => "d-on-plain",
            Self::Curve => "d-curve",
            Self::CurveMid => "d-curve-mid",
            Self::CurveThin => "d-curve-thin",
            Self::Hairline => "d-hairline",
            Self::Dotted => "d-dotted",
            Self::Ring => "d-ring",
            Self::Pointed => "d-pointed",
            Self::Text => "d-text",
            Self::Figure => "d-figure",
            Self::Small => "d-small",
            Self::DemandText => "d-demand-text",
        }
    }
}

/// Where a text stands on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text starts there.
    Start,
    /// The text is centred there.
    Middle,
    /// The text ends there.
    End,
}

/// A shape, in pixels from the upper left corner.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A rectangle by corner and size.
    Rect {
        /// Left.
        x: f64,
        /// Top.
        y: f64,
        /// Width.
        w: f64,
        /// Height.
        h: f64,
    },
    /// A line.
    Line {
        /// From.
        from: [f64; 2],
        /// To.
        to: [f64; 2],
    },
    /// An outline in the language of SVG paths.
    Path(String),
    /// A text.
    Text {
        /// Where.
        at: [f64; 2],
        /// How it stands there.
        anchor: Anchor,
        /// What it says.
        text: String,
    },
}

/// A mark in its ink.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// What it stands for.
    pub ink: Ink,
    /// What is drawn.
    pub mark: Mark,
    /// The storey below the floor it belongs to, where it can be clicked.
    pub floor: Option<u32>,
    /// The event it stands for, where it can be pointed at.
    pub event: Option<u32>,
}

/// What a part of a drawing stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pick {
    /// A column, bay, line or storey.
    Spot(Spot),
    /// A room.
    Room(Room),
}

impl From<Spot> for Pick {
    fn from(spot: Spot) -> Self {
        Self::Spot(spot)
    }
}

impl From<Room> for Pick {
    fn from(room: Room) -> Self {
        Self::Room(room)
    }
}

/// A place of a drawing that can be pointed at.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// What is there.
    pub pick: Pick,
    /// Its name.
    pub name: String,
    /// Upper left corner, px.
    pub corner: [f64; 2],
    /// Width and height, px.
    pub size: [f64; 2],
    /// Whether it is a bubble.
    pub round: bool,
}

impl Target {
    /// The part of a drawing round a point, not smaller than a finger needs.
    pub fn round_point(spot: Spot, name: String, [x, y]: [f64; 2], [w, h]: [f64; 2]) -> Self {
        let size = [w.max(FINGER_PX), h.max(FINGER_PX)];
        Self { pick: spot.into(), name, corner: [x - size[0] / 2.0, y - size[1] / 2.0], size, round: false }
    }
}

/// The least extent of what is pointed at, px (WCAG 2.2, success criterion 2.5.8).
pub const FINGER_PX: f64 = 24.0;

/// A drawing with its words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width, px.
    pub width: f64,
    /// Height, px.
    pub height: f64,
    /// Shapes from back to front.
    pub shapes: Vec<Shape>,
    /// What it shows, for those who do not see it.
    pub words: String,
    /// What can be pointed at, over all shapes; the first takes the keyboard first.
    pub targets: Vec<Target>,
}

impl Drawing {
    /// An empty drawing.
    pub fn new(width: f64, height: f64) -> Self {
        Self { width, height, ..Self::default() }
    }

    /// Adds a mark.
    pub fn put(&mut self, ink: Ink, mark: Mark) {
        self.shapes.push(Shape { ink, mark, floor: None, event: None });
    }

    /// Adds a rectangle between two corners; nothing if it has no area.
    pub fn rect(&mut self, ink: Ink, [x0, y0]: [f64; 2], [x1, y1]: [f64; 2]) {
        let (x, y, w, h) = (x0.min(x1), y0.min(y1), (x1 - x0).abs(), (y1 - y0).abs());
        if w > 0.0 && h > 0.0 {
            self.put(ink, Mark::Rect { x, y, w, h });
        }
    }

    /// Adds a line.
    pub fn line(&mut self, ink: Ink, from: [f64; 2], to: [f64; 2]) {
        self.put(ink, Mark::Line { from, to });
    }

    /// Adds a text.
    pub fn text(&mut self, ink: Ink, at: [f64; 2], anchor: Anchor, text: impl Into<String>) {
        self.put(ink, Mark::Text { at, anchor, text: text.into() });
    }

    /// Adds a line through points, in as many pieces as there are lists.
    pub fn polyline(&mut self, ink: Ink, pieces: &[Vec<[f64; 2]>]) {
        let open = |points: &Vec<[f64; 2]>| closed(points).trim_end_matches('Z').to_owned();
        let d: String = pieces.iter().filter(|points| points.len() > 1).map(open).collect();
        if !d.is_empty() {
            self.put(ink, Mark::Path(d));
        }
    }

    /// Adds a circle.
    pub fn circle(&mut self, ink: Ink, [x, y]: [f64; 2], radius: f64) {
        let (left, r, d) = (Px(x - radius), Px(radius), Px(2.0 * radius));
        self.put(ink, Mark::Path(format!("M{left} {}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0Z", Px(y))));
    }

    /// Lets the shapes from the `first` on be pointed at as an event.
    pub fn mark_event(&mut self, first: usize, event: u32) {
        for shape in &mut self.shapes[first..] {
            shape.event = Some(event);
        }
    }

    /// Adds a straight arrow whose shaft has the given width.
    pub fn arrow(&mut self, from: [f64; 2], to: [f64; 2], width: f64) {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let length = (dx * dx + dy * dy).sqrt();
        if length <= 0.0 {
            return;
        }
        let (ux, uy) = (dx / length, dy / length);
        let head = (width * 0.9 + 5.0).min(length);
        let (half, wing) = (width / 2.0, width / 2.0 + 3.5);
        let point = |along: f64, across: f64| [from[0] + ux * along - uy * across, from[1] + uy * along + ux * across];
        let outline = [
            point(0.0, -half),
            point(length - head, -half),
            point(length - head, -wing),
            point(length, 0.0),
            point(length - head, wing),
            point(length - head, half),
            point(0.0, half),
        ];
        self.put(Ink::Demand, Mark::Path(closed(&outline)));
    }

    /// What stands between the `svg` tags.
    pub fn markup(&self) -> String {
        let mut svg = String::with_capacity(self.shapes.len() * 72);
        for shape in &self.shapes {
            shape.write(&mut svg);
        }
        svg
    }
}

impl Shape {
    fn write(&self, svg: &mut String) {
        let class = self.ink.class();
        let floor = match (self.floor, self.event) {
            (Some(floor), _) => format!(" data-floor=\"{floor}\""),
            (None, Some(event)) => format!(" data-event=\"{event}\""),
            (None, None) => String::new(),
        };
        // Writing to a string does not fail.
        let _ = match &self.mark {
            Mark::Rect { x, y, w, h } => write!(
                svg,
                "<rect class=\"{class}\"{floor} x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                Px(*x),
                Px(*y),
                Px(*w),
                Px(*h)
            ),
            Mark::Line { from, to } => write!(
                svg,
                "<line class=\"{class}\"{floor} x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"/>",
                Px(from[0]),
                Px(from[1]),
                Px(to[0]),
                Px(to[1])
            ),
            Mark::Path(d) => write!(svg, "<path class=\"{class}\"{floor} d=\"{d}\"/>"),
            Mark::Text { at, anchor, text } => {
                let anchor = match anchor {
                    Anchor::Start => "start",
                    Anchor::Middle => "middle",
                    Anchor::End => "end",
                };
                write!(
                    svg,
                    "<text class=\"{class}\"{floor} x=\"{}\" y=\"{}\" text-anchor=\"{anchor}\">{}</text>",
                    Px(at[0]),
                    Px(at[1]),
                    escaped(text)
                )
            }
        };
    }
}

/// A coordinate, to a hundredth of a pixel and never "-0".
pub(crate) struct Px(pub f64);

impl std::fmt::Display for Px {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", (self.0 * 100.0).round() / 100.0 + 0.0)
    }
}

/// A closed outline through points.
pub(crate) fn closed(points: &[[f64; 2]]) -> String {
    let mut d = String::new();
    for (index, [x, y]) in points.iter().enumerate() {
        let _ = write!(d, "{}{} {}", if index == 0 { 'M' } else { 'L' }, Px(*x), Px(*y));
    }
    d.push('Z');
    d
}

/// Text as it may stand in markup.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            other => safe.push(other),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_texts_cannot_become_markup() {
        let mut drawing = Drawing::new(10.0, 10.0);
        drawing.text(Ink::Text, [1.0, 2.0], Anchor::Middle, "<b onload=\"x\">&");
        assert!(drawing.markup().contains(">&lt;b onload=&quot;x&quot;&gt;&amp;</text>"));
    }

    #[test]
    fn coordinates_are_short_and_never_minus_zero() {
        assert_eq!(Px(-0.001).to_string(), "0");
        assert_eq!(Px(1.0 / 3.0).to_string(), "0.33");
    }

    #[test]
    fn an_empty_rectangle_is_not_drawn() {
        let mut drawing = Drawing::new(10.0, 10.0);
        drawing.rect(Ink::Standing, [1.0, 1.0], [1.0, 5.0]);
        assert!(drawing.shapes.is_empty());
        drawing.rect(Ink::Standing, [4.0, 5.0], [1.0, 1.0]);
        assert_eq!(drawing.shapes[0].mark, Mark::Rect { x: 1.0, y: 1.0, w: 3.0, h: 4.0 });
    }
}
