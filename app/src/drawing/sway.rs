//! A frame line pushed over: its sway exaggerated, its members with what has become of them.

use super::{Drawing, Ink, Mark, closed};
use sisterframe_core::model::{Model, PanelOrigin};
use sisterframe_core::place::{Class, Place};
use sisterframe_core::project::Direction;
use sisterframe_core::study::Failure;

/// What has become of a member.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MemberState {
    /// It yields, slips or is cracked through.
    Yielded,
    /// It loses strength.
    Losing,
    /// It no longer carries gravity load.
    Lost,
}

impl MemberState {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Yielded, Self::Losing, Self::Lost];

    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Yielded => "yielded",
            Self::Losing => "losing strength",
            Self::Lost => "gravity support lost",
        }
    }

    /// Draws its mark.
    pub fn draw(self, drawing: &mut Drawing, [x, y]: [f64; 2]) {
        const SLASH: f64 = 4.2;
        match self {
            Self::Yielded => drawing.circle(Ink::Plain, [x, y], 4.0),
            Self::Losing => {
                drawing.circle(Ink::Ring, [x, y], 7.5);
                drawing.polyline(Ink::Curve, &[vec![[x - SLASH, y + SLASH], [x + SLASH, y - SLASH]]]);
            }
            Self::Lost => {
                drawing.circle(Ink::Ring, [x, y], 7.5);
                let rising = vec![[x - SLASH, y + SLASH], [x + SLASH, y - SLASH]];
                drawing.polyline(Ink::Curve, &[rising, vec![[x - SLASH, y - SLASH], [x + SLASH, y + SLASH]]]);
            }
        }
    }
}

/// A member's state with the event that brought it there.
#[derive(Clone, Debug, PartialEq)]
pub struct MemberMark {
    /// The member.
    pub place: Place,
    /// How it fails; joints and beams stand elsewhere than the column they are named after.
    pub failure: Failure,
    /// Its state; none for a member only pointed at.
    pub state: Option<MemberState>,
    /// Number of the group of events it belongs to.
    pub event: u32,
    /// Whether it is pointed at.
    pub pointed: bool,
}

/// A frame line pushed over.
#[derive(Clone, Copy, Debug)]
pub struct Sway<'a> {
    /// The building with a scheme applied.
    pub model: &'a Model,
    /// Direction of the push.
    pub direction: Direction,
    /// Which of [`sway_lines`].
    pub line: usize,
    /// Displacements of the floors from the ground up, m, signed by the sense of the push.
    pub floors_m: &'a [f64],
    /// How many times the displacements are drawn; see [`Sway::factor`].
    pub factor: f64,
    /// Heights of the storeys' rows from the ground up, px.
    pub storey_px: &'a [f64],
    /// Width, px.
    pub width: f64,
    /// Members with their states.
    pub marks: &'a [MemberMark],
}

/// Room above the roof and below the ground, px.
pub const SWAY_MARGIN_PX: f64 = 14.0;
/// The furthest a floor is drawn off its place, px.
const MOST_PX: f64 = 34.0;

/// Names of the lines that can be drawn: frame lines of the building, then external frames.
pub fn sway_lines(model: &Model, direction: Direction) -> Vec<String> {
    let lines = model.lines(direction).iter().map(|line| line.name.clone());
    lines.chain(model.frames.iter().filter(|frame| frame.direction == direction).map(|frame| frame.name())).collect()
}

impl Sway<'_> {
    /// Which line of [`sway_lines`] a place is on.
    pub fn line_of(model: &Model, direction: Direction, place: &Place) -> Option<usize> {
        let own = |name: &String| model.lines(direction).iter().position(|line| line.name == *name);
        let frame = |face: &String| {
            let mut frames = model.frames.iter().filter(|frame| frame.direction == direction);
            frames.position(|frame| frame.spec.face == *face).map(|place| model.lines(direction).len() + place)
        };
        match place {
            Place::Column { x, y, .. } => own(if direction == Direction::X { y } else { x }),
            Place::Beam { line, .. } | Place::Panel { line, .. } | Place::Line { line } => own(line),
            Place::FrameColumn { face, .. } | Place::Slab { face, .. } => frame(face),
            Place::Footing { line } => frame(line).or_else(|| own(line)),
            Place::Building | Place::Storey { .. } => None,
        }
    }

    /// How many times displacements may be drawn, as a round number, so that `most_m` stays on the
    /// drawing.
    pub fn factor(model: &Model, direction: Direction, width: f64, most_m: f64) -> f64 {
        let scale = Self::scale(model, direction, width);
        let mut round = 1.0;
        for factor in [2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0] {
            if factor * most_m * scale <= MOST_PX {
                round = factor;
            }
        }
        round
    }

    fn scale(model: &Model, direction: Direction, width: f64) -> f64 {
        let along = model.along(direction);
        (width - 2.0 * (MOST_PX + 14.0)) / (along[along.len() - 1].at_m - along[0].at_m).max(0.1)
    }

    /// A point of the line: ordinate along it, and level with a part of the storey above.
    fn at(&self, along_m: f64, level: usize, part: f64) -> [f64; 2] {
        let first = self.model.along(self.direction)[0].at_m;
        let scale = Self::scale(self.model, self.direction, self.width);
        let moved = |level: usize| level.checked_sub(1).and_then(|i| self.floors_m.get(i)).copied().unwrap_or(0.0);
        let sway = (moved(level) + part * (moved(level + 1) - moved(level))) * self.factor * scale;
        let above = self.storey_px.iter().skip(level).sum::<f64>();
        let own = self.storey_px.get(level).copied().unwrap_or(0.0);
        let x = MOST_PX + 14.0 + (along_m - first) * scale + sway.clamp(-MOST_PX, MOST_PX);
        [x, SWAY_MARGIN_PX + above - part * own]
    }

    /// A leaning strip of a storey between two ordinates, from its foot to a part of its height.
    fn strip(&self, drawing: &mut Drawing, ink: Ink, storey: u32, [left, right]: [f64; 2], px: [f64; 2], part: f64) {
        let level = storey as usize - 1;
        let (a, b) = (self.at(left, level, 0.0), self.at(right, level, 0.0));
        let (c, d) = (self.at(right, level, part), self.at(left, level, part));
        let outline = [[a[0] + px[0], a[1]], [b[0] + px[1], b[1]], [c[0] + px[1], c[1]], [d[0] + px[0], d[1]]];
        drawing.put(ink, Mark::Path(closed(&outline)));
    }

    fn beam(&self, drawing: &mut Drawing, ink: Ink, storey: u32, [left, right]: [f64; 2], half_px: f64) {
        let (from, to) = (self.at(left, storey as usize, 0.0), self.at(right, storey as usize, 0.0));
        drawing.rect(ink, [from[0], from[1] - half_px], [to[0], to[1] + half_px]);
    }

    fn ordinate(&self, end: usize) -> f64 {
        self.model.along(self.direction)[end].at_m
    }

    fn frame(&self) -> Option<&sisterframe_core::model::Frame> {
        let place = self.line.checked_sub(self.model.lines(self.direction).len())?;
        self.model.frames.iter().filter(|frame| frame.direction == self.direction).nth(place)
    }

    fn draw_building(&self, drawing: &mut Drawing) {
        let (model, direction, line) = (self.model, self.direction, self.line);
        for panel in model.masonry.iter().filter(|own| own.direction == direction && own.line == line) {
            let [_, clear] = model.clear_opening_m(direction, line, panel.bay, panel.storey);
            let part = panel.kind.sill_mm.map_or(0.94, |sill| (sill / 1000.0 / clear.max(0.1)).min(0.94));
            let bay = [self.ordinate(panel.bay as usize - 1), self.ordinate(panel.bay as usize)];
            self.strip(drawing, Ink::Masonry, panel.storey, bay, [0.0, 0.0], part);
        }
        for panel in model.panels.iter().filter(|own| own.direction == direction && own.line == line) {
            let ink = if matches!(panel.origin, PanelOrigin::Infill(_)) { Ink::Added } else { Ink::Wall };
            let bay = [self.ordinate(panel.bay as usize - 1), self.ordinate(panel.bay as usize)];
            self.strip(drawing, ink, panel.storey, bay, [4.0, -4.0], 0.96);
        }
        for storey in 1..=model.floors.len() as u32 {
            for end in 0..model.along(direction).len() {
                let Some(column) = model.column_on(direction, line, end, storey) else { continue };
                let at = [self.ordinate(end); 2];
                if let Some(wings) = column.wings.as_ref().filter(|wings| wings.spec.direction == direction) {
                    let wing = |length: f64| if length > 0.0 { 11.0 } else { 0.0 };
                    let px = [-wing(wings.lower_mm), wing(wings.higher_mm)];
                    self.strip(drawing, Ink::Added, storey, at, px, 0.96);
                }
                let (ink, half) = match column.class() {
                    Class::Strengthened if column.jacket.is_some() => (Ink::Strengthened, 6.5),
                    _ => (Ink::Standing, 4.0),
                };
                self.strip(drawing, ink, storey, at, [-half, half], 1.0);
            }
        }
        for beam in model.beams.iter().filter(|own| own.direction == direction && own.line == line) {
            let bay = [self.ordinate(beam.bay as usize - 1), self.ordinate(beam.bay as usize)];
            self.beam(drawing, Ink::Standing, beam.storey, bay, 3.5);
        }
    }

    fn draw_frame(&self, drawing: &mut Drawing, frame: &sisterframe_core::model::Frame) {
        for storey in 1..=frame.storeys {
            for along in &frame.along_m {
                self.strip(drawing, Ink::Added, storey, [*along; 2], [-6.0, 6.0], 1.0);
            }
            for bay in frame.along_m.windows(2) {
                self.beam(drawing, Ink::Added, storey, [bay[0], bay[1]], 5.0);
            }
        }
    }

    /// Where the mark of a member stands; nothing if it is on another line.
    fn place_of(&self, place: &Place, failure: Failure) -> Option<[f64; 2]> {
        if Self::line_of(self.model, self.direction, place) != Some(self.line) {
            return None;
        }
        let end_of = |name: &String| self.model.along(self.direction).iter().position(|own| own.name == *name);
        let middle = |bay: u32| (self.ordinate(bay as usize - 1) + self.ordinate(bay as usize)) / 2.0;
        match place {
            Place::Column { x, y, storey } => {
                let end = end_of(if self.direction == Direction::X { x } else { y })?;
                let part = if failure == Failure::Joint { 1.0 } else { 0.5 };
                Some(self.at(self.ordinate(end), *storey as usize - 1, part))
            }
            Place::Beam { bay, storey, .. } => Some(self.at(middle(*bay), *storey as usize, 0.0)),
            Place::Panel { bay, storey, .. } => Some(self.at(middle(*bay), *storey as usize - 1, 0.5)),
            Place::FrameColumn { at, storey, .. } => {
                let frame = self.frame()?;
                let own = frame.opposite.iter().position(|name| name == at)?;
                match (failure, frame.along_m.get(own + 1)) {
                    (Failure::Beam, Some(next)) => {
                        Some(self.at((frame.along_m[own] + next) / 2.0, *storey as usize, 0.0))
                    }
                    _ => Some(self.at(frame.along_m[own], *storey as usize - 1, 0.5)),
                }
            }
            Place::Slab { level, .. } => {
                let frame = self.frame()?;
                let [x, y] = self.at(*frame.along_m.first()?, *level as usize, 0.0);
                Some([x - 16.0, y])
            }
            Place::Footing { .. } => {
                let frame = self.frame()?;
                let middle = (frame.along_m.first()? + frame.along_m.last()?) / 2.0;
                let [x, y] = self.at(middle, 0, 0.0);
                Some([x, y - 9.0])
            }
            Place::Building | Place::Storey { .. } | Place::Line { .. } => None,
        }
    }
}

/// Draws the line.
pub fn sway(look: &Sway<'_>) -> Drawing {
    let height = look.storey_px.iter().sum::<f64>() + 2.0 * SWAY_MARGIN_PX;
    let mut drawing = Drawing::new(look.width, height);
    let storeys = look.model.floors.len();
    let still = Sway { floors_m: &[], ..*look };
    let upright: Vec<Vec<[f64; 2]>> = (0..look.model.along(look.direction).len())
        .filter(|end| (1..=storeys as u32).any(|s| look.model.column_on(look.direction, look.line, *end, s).is_some()))
        .map(|end| vec![still.at(look.ordinate(end), 0, 0.0), still.at(look.ordinate(end), storeys, 0.0)])
        .collect();
    drawing.polyline(Ink::Hairline, &upright);
    match look.frame() {
        Some(frame) => look.draw_frame(&mut drawing, frame),
        None => look.draw_building(&mut drawing),
    }
    let ground = height - SWAY_MARGIN_PX;
    drawing.put(Ink::Ground, Mark::Path(format!("M4 {ground}H{}", look.width - 4.0)));
    let mut shown = [0; 3];
    for mark in look.marks {
        let Some(at) = look.place_of(&mark.place, mark.failure) else { continue };
        let first = drawing.shapes.len();
        if let Some(state) = mark.state {
            state.draw(&mut drawing, at);
            shown[state as usize] += 1;
        }
        if mark.pointed {
            drawing.circle(Ink::Pointed, at, 12.0);
        }
        drawing.mark_event(first, mark.event);
    }
    let name = sway_lines(look.model, look.direction).get(look.line).cloned().unwrap_or_default();
    let states: Vec<String> = MemberState::ALL
        .iter()
        .zip(shown)
        .filter(|(_, count)| *count > 0)
        .map(|(state, count)| format!("{count} {}", state.label()))
        .collect();
    let states = if states.is_empty() { "no member has yielded".to_owned() } else { states.join(", ") };
    drawing.words = format!("Line {name} pushed over, its sway drawn {} times: {states}.", look.factor);
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn model(scheme: usize) -> Model {
        let project = sample::project(sample::CLINIC);
        Model::new(&project.building, &project.schemes[scheme])
    }

    #[test]
    fn an_external_frame_is_a_line_of_its_own_and_members_know_theirs() {
        let model = model(3);
        let lines = sway_lines(&model, Direction::X);
        assert_eq!(lines.len(), model.lines(Direction::X).len() + 1);
        let column = Place::Column { x: "2".to_owned(), y: "B".to_owned(), storey: 1 };
        let line = Sway::line_of(&model, Direction::X, &column).expect("a line along x");
        assert_eq!(lines[line], "B");
        assert_eq!(Sway::line_of(&model, Direction::Y, &column), Some(1));
        let slab = Place::Slab { face: "A".to_owned(), level: 2 };
        assert_eq!(Sway::line_of(&model, Direction::X, &slab), Some(lines.len() - 1));
    }

    #[test]
    fn members_are_marked_where_they_stand_and_lean_with_the_floors() {
        let model = model(0);
        let place = Place::Column { x: "2".to_owned(), y: "B".to_owned(), storey: 1 };
        let mark =
            MemberMark { place, failure: Failure::Shear, state: Some(MemberState::Lost), event: 3, pointed: true };
        let marks = [mark];
        let line = Sway::line_of(&model, Direction::X, &marks[0].place).expect("a line");
        let upright = Sway {
            model: &model,
            direction: Direction::X,
            line,
            floors_m: &[],
            factor: 20.0,
            storey_px: &[100.0; 4],
            width: 400.0,
            marks: &marks,
        };
        let leaning = Sway { floors_m: &[0.02, 0.03, 0.04, 0.05], ..upright };
        let [x0, y0] = upright.place_of(&marks[0].place, Failure::Shear).expect("it is on the line");
        let [x1, y1] = leaning.place_of(&marks[0].place, Failure::Shear).expect("it is on the line");
        assert!(x1 > x0 && y1 == y0 && y0 == SWAY_MARGIN_PX + 350.0);
        let drawing = sway(&leaning);
        assert!(drawing.words.contains("1 gravity support lost"), "{}", drawing.words);
        assert!(drawing.markup().contains("data-event=\"3\""));
        let other = Sway { line: 0, ..leaning };
        assert!(sway(&other).words.contains("no member has yielded"));
    }

    #[test]
    fn the_sway_never_leaves_the_drawing() {
        let model = model(0);
        for most in [0.001, 0.05, 0.4, 3.0] {
            let factor = Sway::factor(&model, Direction::X, 400.0, most);
            assert!(
                factor >= 1.0 && (factor == 1.0 || factor * most * Sway::scale(&model, Direction::X, 400.0) <= MOST_PX)
            );
        }
    }
}
