//! Bilinear idealisations of a capacity curve.

/// A capacity curve: displacement (m) and force (kN) from the origin, displacement not falling,
/// straight between points.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a>(pub &'a [[f64; 2]]);

/// Two straight lines in place of a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bilinear {
    /// Displacement at the corner, m.
    pub yield_m: f64,
    /// Force at the corner, kN.
    pub yield_kn: f64,
    /// Displacement at the end, m.
    pub end_m: f64,
    /// Force at the end, kN.
    pub end_kn: f64,
}

impl Bilinear {
    /// First stiffness, kN/m.
    pub fn stiffness_kn_m(&self) -> f64 {
        self.yield_kn / self.yield_m
    }

    /// Second stiffness over the first.
    pub fn hardening(&self) -> f64 {
        let run = self.end_m - self.yield_m;
        if run > 1e-12 * self.end_m { (self.end_kn - self.yield_kn) / run / self.stiffness_kn_m() } else { 0.0 }
    }
}

impl Line<'_> {
    /// Force at a displacement; that of the last point beyond it.
    pub fn force_kn(&self, displacement_m: f64) -> f64 {
        for pair in self.0.windows(2) {
            let [[d0, v0], [d1, v1]] = [pair[0], pair[1]];
            if displacement_m <= d1 {
                return if d1 > d0 { v0 + (v1 - v0) * ((displacement_m - d0) / (d1 - d0)).max(0.0) } else { v1 };
            }
        }
        self.0.last().map_or(0.0, |point| point[1])
    }

    /// Area under the curve up to a displacement, kNm.
    pub fn area_knm(&self, displacement_m: f64) -> f64 {
        let mut area = 0.0;
        let mut last = [0.0, 0.0];
        for &[d, v] in self.0 {
            if d >= displacement_m {
                let force = self.force_kn(displacement_m);
                return area + 0.5 * (last[1] + force) * (displacement_m - last[0]).max(0.0);
            }
            area += 0.5 * (last[1] + v) * (d - last[0]);
            last = [d, v];
        }
        area + last[1] * (displacement_m - last[0]).max(0.0)
    }

    /// Displacement at which a force is reached for the first time; the last one if it is not.
    pub fn displacement_m(&self, force_kn: f64) -> f64 {
        let mut last = [0.0, 0.0];
        for &[d, v] in self.0 {
            if v >= force_kn {
                return if v > last[1] { last[0] + (d - last[0]) * (force_kn - last[1]) / (v - last[1]) } else { d };
            }
            last = [d, v];
        }
        last[0]
    }

    /// Largest force up to a displacement with where it is reached.
    pub fn peak(&self, up_to_m: f64) -> [f64; 2] {
        let mut peak = [up_to_m, self.force_kn(up_to_m)];
        for &[d, v] in self.0.iter().take_while(|point| point[0] <= up_to_m) {
            if v > peak[1] || (v == peak[1] && d < peak[0]) {
                peak = [d, v];
            }
        }
        peak
    }

    /// Elastic, then level at the force reached at `at_m`, with the same area:
    /// d_y = 2·(d_m − E_m/F_y).
    ///
    /// Source: EN 1998-1:2004 Annex B.3, Eq. B.6 (MEMORY).
    pub fn equal_energy(&self, at_m: f64) -> Bilinear {
        let force = self.force_kn(at_m);
        // Never beyond the end, nor softer than the curve at its start could be.
        let yields = (2.0 * (at_m - self.area_knm(at_m) / force)).clamp(1e-9 * at_m, at_m);
        Bilinear { yield_m: yields, yield_kn: force, end_m: at_m, end_kn: force }
    }

    /// First line through the curve at `part` of the corner's force, second to the end of the
    /// curve considered, with the same area; the corner no higher than the largest force.
    ///
    /// Source: ASCE/SEI 41-17 7.4.3.2.4 with part 0.6 (MEMORY).
    pub fn secant(&self, at_m: f64, part: f64) -> Bilinear {
        let (end, area) = (self.force_kn(at_m), self.area_knm(at_m));
        let corner = |force: f64| (self.displacement_m(part * force) / part).min(at_m);
        let excess = |force: f64| {
            let yields = corner(force);
            0.5 * force * yields + 0.5 * (force + end) * (at_m - yields) - area
        };
        let top = self.peak(at_m)[1];
        // A curve that stiffens on its way encloses less than the straight line to its end: no two
        // lines with a corner above it do.
        if 0.5 * end * at_m >= area {
            return Bilinear { yield_m: at_m, yield_kn: end, end_m: at_m, end_kn: end };
        }
        let (mut low, mut high) = (0.0, top);
        // The excess grows with the corner's force; halving to the last bit.
        if excess(high) > 0.0 {
            for _ in 0..200 {
                let middle = 0.5 * (low + high);
                if middle <= low || middle >= high {
                    break;
                }
                if excess(middle) > 0.0 {
                    high = middle;
                } else {
                    low = middle;
                }
            }
        }
        Bilinear { yield_m: corner(high), yield_kn: high, end_m: at_m, end_kn: end }
    }
}

/// The part of a path that can be read as a function of the displacement: where the displacement
/// goes back, the path is left and taken up again beyond (under ground motion the building jumps
/// there).
pub fn advancing(points: impl IntoIterator<Item = [f64; 2]>) -> Vec<[f64; 2]> {
    let mut line: Vec<[f64; 2]> = Vec::new();
    let mut last: Option<[f64; 2]> = None;
    for [d, v] in points {
        match (line.last().copied(), last) {
            (Some([far, _]), Some([d0, v0])) if d0 < far => {
                if d > far {
                    // Back at the displacement left: at the force the path has there now.
                    line.push([far, v0 + (v - v0) * (far - d0) / (d - d0)]);
                    line.push([d, v]);
                }
            }
            (Some([far, _]), _) if d < far => {}
            _ => line.push([d, v]),
        }
        last = Some([d, v]);
    }
    line
}
