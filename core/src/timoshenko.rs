//! The flexible part of a straight member: bending and shear between two faces.

/// A prismatic segment that bends and shears between its two faces.
///
/// With w the transverse displacement, φ the anticlockwise rotation of the face (φ = dw/ds for
/// s along the member) and M the anticlockwise couple on the face,
///
/// M₁ = EI/(L(1+Φ)) · [(4+Φ)φ₁ + (2−Φ)φ₂ − 6ψ], ψ = (w₂ − w₁)/L, Φ = 12EI/(G·A_s·L²),
///
/// M₂ with φ₁ and φ₂ exchanged, and V = (M₁ + M₂)/L on the first face along +w.
///
/// Valid for any Φ ≥ 0; Φ = 0 is the Euler–Bernoulli beam.
/// DERIVED: unit end displacements of a cantilever with tip flexibilities L³/3EI + L/GA_s,
/// L²/2EI and L/EI, inverted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Flexible length, m.
    pub length_m: f64,
    near: f64,
    far: f64,
    sway: f64,
}

impl Segment {
    /// A segment of `length_m` with flexural rigidity (kN·m²) and shear rigidity (kN; `None` leaves
    /// shear deformation out).
    pub fn new(length_m: f64, flexural_rigidity_kn_m2: f64, shear_rigidity_kn: Option<f64>) -> Self {
        let phi = shear_rigidity_kn.map_or(0.0, |shear| 12.0 * flexural_rigidity_kn_m2 / (shear * length_m * length_m));
        let unit = flexural_rigidity_kn_m2 / (length_m * (1.0 + phi));
        Self { length_m, near: unit * (4.0 + phi), far: unit * (2.0 - phi), sway: unit * 6.0 / length_m }
    }

    /// Transverse stiffness with both faces kept from rotating, kN/m: 12EI/(L³(1+Φ)).
    pub fn sway_stiffness_kn_per_m(&self) -> f64 {
        2.0 * self.sway / self.length_m
    }

    /// Couples on the two faces (kN·m, anticlockwise) for transverse displacements `w` (m) and
    /// rotations `phi` (rad).
    pub fn end_moments_kn_m(&self, w: [f64; 2], phi: [f64; 2]) -> [f64; 2] {
        let sway = self.sway * (w[1] - w[0]);
        [self.near * phi[0] + self.far * phi[1] - sway, self.far * phi[0] + self.near * phi[1] - sway]
    }

    /// Stiffness on `[t₁, θ₁, t₂, θ₂]` where face `e` has w = `sign`·t + `offset[e]`·θ and φ = θ.
    pub(crate) fn stiffness_with_arms(&self, sign: f64, offset: [f64; 2]) -> [[f64; 4]; 4] {
        // Face displacements [w₁, φ₁, w₂, φ₂] of each unit nodal displacement; then K = TᵀkT.
        let unit =
            [[sign, 0.0, 0.0, 0.0], [offset[0], 1.0, 0.0, 0.0], [0.0, 0.0, sign, 0.0], [0.0, 0.0, offset[1], 1.0]];
        let mut matrix = [[0.0; 4]; 4];
        for (column, [w1, phi1, w2, phi2]) in unit.into_iter().enumerate() {
            let [m1, m2] = self.end_moments_kn_m([w1, w2], [phi1, phi2]);
            let v1 = (m1 + m2) / self.length_m;
            let nodal = [sign * v1, m1 + offset[0] * v1, -sign * v1, m2 - offset[1] * v1];
            for (row, value) in nodal.into_iter().enumerate() {
                matrix[row][column] = value;
            }
        }
        matrix
    }
}
