//! Pieces cut free out of connections, with every force that keeps them in balance: what drawings
//! show.

use super::{ConnectionKind, ConnectionResult, Part, Symbol};
use serde::Serialize;

/// A force on a piece, in the plane of its drawing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Acting {
    /// What it is.
    pub symbol: Symbol,
    /// Where its resultant acts, m.
    pub at_m: [f64; 2],
    /// Its parts along the axes, kN.
    pub force_kn: [f64; 2],
    /// Length along which it is spread, with its resultant in the middle of it, m; zero where it
    /// acts in a point.
    pub spread_m: f64,
}

/// A piece cut free.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FreeBody {
    /// What is cut free.
    pub piece: &'static str,
    /// Every force on it.
    pub acting: Vec<Acting>,
}

impl FreeBody {
    /// What is left of the forces along both axes, kN, and of their moments, kNm: nothing.
    pub fn residual(&self) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for own in &self.acting {
            let ([x, y], [along, across]) = (own.at_m, own.force_kn);
            sum[0] += along;
            sum[1] += across;
            sum[2] += x * across - y * along;
        }
        sum
    }
}

fn acting(symbol: Symbol, at_m: [f64; 2], force_kn: [f64; 2], spread_m: f64) -> Acting {
    Acting { symbol, at_m, force_kn, spread_m }
}

impl ConnectionResult {
    /// The piece that shows what the connection passes; none where the forces are not known.
    ///
    /// - Connecting slab, in plan, x along the joint from its middle, y outwards: the strip with the
    ///   new beam, from the old joint to the frame's axis.
    /// - Bars round an infill, x and y (up) from the middle: the panel.
    /// - Wing or jacket, in elevation, x from the joint, y up from the foot: what lies beyond the
    ///   joint, bent the same at head and foot.
    /// - Collector and edge of a floor, x along the line: the line cut free of the floor.
    /// - Beam–column joint, x and y (up) from its middle: joint and columns up to their turning points.
    /// - Floor between stiff lines, in plan, x from one line, y with the force from the middle of its
    ///   depth: half of it, cut in the middle.
    /// - Footing, x from its middle, y up from its base, which the load presses.
    pub fn free_body(&self) -> Option<FreeBody> {
        let (piece, acting) = match self.kind {
            ConnectionKind::ConnectingSlab => ("strip with the new beam", self.on_strip()?),
            ConnectionKind::Perimeter => ("panel", self.on_panel()?),
            ConnectionKind::WingEdge => ("wing beyond the joint", self.beyond_joint()?),
            // A jacket beside the force has no piece beyond a face across it.
            ConnectionKind::JacketFace if self.figure(Symbol::SkinBeyond) == Some(0.0) => return None,
            ConnectionKind::JacketFace => ("jacket beyond the face", self.beyond_joint()?),
            ConnectionKind::Collector | ConnectionKind::FloorEdge => ("line cut free of the floor", self.on_line()?),
            ConnectionKind::Footing => ("footing", self.on_footing()?),
            ConnectionKind::Joint => ("joint between the turning points of its columns", self.on_joint()?),
            ConnectionKind::FloorSpan => ("half of the floor between the lines", self.on_half_floor()?),
        };
        Some(FreeBody { piece, acting })
    }

    fn on_strip(&self) -> Option<Vec<Acting>> {
        let of = |symbol| self.figure(symbol);
        let (force, lever, length) = (of(Symbol::Force)?, of(Symbol::Lever)?, of(Symbol::Length)?);
        let (chord, half) = (of(Symbol::Chord)?, of(Symbol::Arm)? / 2.0);
        Some(vec![
            acting(Symbol::Force, [0.0, 0.0], [force, 0.0], length),
            acting(Symbol::Force, [0.0, lever], [-force, 0.0], length),
            acting(Symbol::Chord, [half, 0.0], [0.0, -chord], 0.0),
            acting(Symbol::Chord, [-half, 0.0], [0.0, chord], 0.0),
        ])
    }

    fn on_panel(&self) -> Option<Vec<Acting>> {
        let of = |symbol| self.figure(symbol);
        let (length, height) = (of(Symbol::Length)?, of(Symbol::Height)?);
        let (along, upright) = (of(Symbol::PanelShear)?, of(Symbol::UprightShear)?);
        Some(vec![
            acting(Symbol::PanelShear, [0.0, height / 2.0], [along, 0.0], length),
            acting(Symbol::PanelShear, [0.0, -height / 2.0], [-along, 0.0], length),
            acting(Symbol::UprightShear, [length / 2.0, 0.0], [0.0, upright], height),
            acting(Symbol::UprightShear, [-length / 2.0, 0.0], [0.0, -upright], height),
        ])
    }

    fn beyond_joint(&self) -> Option<Vec<Acting>> {
        let of = |symbol| self.figure(symbol);
        let (height, joint) = (of(Symbol::Height)?, of(Symbol::Force)?);
        let (at, shear) = (of(Symbol::Resultant)?, of(Symbol::ShearBeyond)?);
        Some(vec![
            acting(Symbol::Force, [0.0, height / 2.0], [0.0, joint], height),
            acting(Symbol::Force, [at, height], [0.0, -joint / 2.0], 0.0),
            acting(Symbol::Force, [at, 0.0], [0.0, -joint / 2.0], 0.0),
            acting(Symbol::ShearBeyond, [at, height], [-shear, 0.0], 0.0),
            acting(Symbol::ShearBeyond, [at, 0.0], [shear, 0.0], 0.0),
        ])
    }

    fn on_line(&self) -> Option<Vec<Acting>> {
        let mut from = 0.0;
        let mut all = Vec::new();
        for own in &self.stretches {
            let middle = [from + own.length_m / 2.0, 0.0];
            if own.brought_kn != 0.0 {
                all.push(acting(Symbol::Force, middle, [own.brought_kn, 0.0], own.length_m));
            }
            if own.taken_kn != 0.0 {
                all.push(acting(Symbol::Force, middle, [-own.taken_kn, 0.0], own.length_m));
            }
            from += own.length_m;
        }
        (!all.is_empty()).then_some(all)
    }

    fn on_joint(&self) -> Option<Vec<Acting>> {
        let of = |symbol| self.figure(symbol);
        let moment = of(Symbol::BeamMoments)?.min(of(Symbol::ColumnMoments)?);
        let (lever, height) = (of(Symbol::JointLever)?, of(Symbol::StoreyHeight)?);
        let (pull, shear) = (moment / lever, moment / height);
        Some(vec![
            acting(Symbol::Pull, [0.0, lever / 2.0], [pull, 0.0], 0.0),
            acting(Symbol::Pull, [0.0, -lever / 2.0], [-pull, 0.0], 0.0),
            acting(Symbol::ColumnShear, [0.0, height / 2.0], [-shear, 0.0], 0.0),
            acting(Symbol::ColumnShear, [0.0, -height / 2.0], [shear, 0.0], 0.0),
        ])
    }

    fn on_half_floor(&self) -> Option<Vec<Acting>> {
        let of = |symbol| self.figure(symbol);
        let (span, load) = (of(Symbol::FloorSpan)?, of(Symbol::FloorLoad)?);
        let (chord, lever) = (of(Symbol::Chord)?, of(Symbol::FloorLever)?);
        let half = load * span / 2.0;
        Some(vec![
            acting(Symbol::Force, [span / 4.0, 0.0], [0.0, half], 0.0),
            acting(Symbol::Force, [0.0, 0.0], [0.0, -half], 0.0),
            acting(Symbol::Chord, [span / 2.0, lever / 2.0], [chord, 0.0], 0.0),
            acting(Symbol::Chord, [span / 2.0, -lever / 2.0], [-chord, 0.0], 0.0),
        ])
    }

    fn on_footing(&self) -> Option<Vec<Acting>> {
        let (length, width) = (self.figure(Symbol::FootingLength)?, self.figure(Symbol::Width)?);
        let deep = self.figure(Symbol::FootingDepth)?;
        let bearing = self.check(Part::Bearing).filter(|check| check.strength > 0.0)?;
        let (contact, load) = (bearing.term(Symbol::Contacted)?, bearing.term(Symbol::Compression)?);
        let (most, least) = (bearing.demand, least_pressure_kpa(self)?);
        let even = least * contact * width;
        let more = (most - least) * contact * width / 2.0;
        let edge = length / 2.0;
        Some(vec![
            acting(Symbol::Compression, [bearing.term(Symbol::Eccentricity)?, deep], [0.0, -load], 0.0),
            acting(Symbol::Pressure, [edge - contact / 2.0, 0.0], [0.0, even], contact),
            acting(Symbol::Pressure, [edge - contact / 3.0, 0.0], [0.0, more], 0.0),
        ])
    }
}

/// Pressure where a footing bears least: nothing where part of it lifts, kPa.
pub fn least_pressure_kpa(of: &ConnectionResult) -> Option<f64> {
    let (length, width) = (of.figure(Symbol::FootingLength)?, of.figure(Symbol::Width)?);
    let bearing = of.check(Part::Bearing)?;
    let (contact, load) = (bearing.term(Symbol::Contacted)?, bearing.term(Symbol::Compression)?);
    if contact < length { Some(0.0) } else { Some((2.0 * load / (length * width) - bearing.demand).max(0.0)) }
}
