//! A frame line: one vertical plane of columns, beams and wall panels, reduced to one lateral
//! displacement per floor.
//!
//! Every floor moves sideways as one (rigid diaphragm); every joint rotates and moves vertically
//! on its own. Members bend and shear (Timoshenko) between rigid ends, columns and walls also
//! shorten. A wall panel is a wide column on its own axis: the joints of the column lines it
//! covers ride on its axis through rigid horizontal arms at the floors it touches, so panels
//! stacked or side by side share one node per floor. Rotations and vertical displacements are
//! condensed out exactly; what is left is a *full* matrix, because the shear in a storey depends
//! on the drifts of all storeys as soon as joints rotate.
//!
//! Signs: x to the right, z up, rotations and end moments anticlockwise, lateral displacement
//! and storey shear positive to the right, axial force positive in compression.
//!
//! Storeys, floors, column lines and bays are counted from zero: storey `s` ends at floor `s`,
//! bay `b` lies between column lines `b` and `b + 1`. Units: kN, m, rad.
//!
//! Wide-column analogy and rigid end offsets: common practice, no source; the element is
//! derived in [`crate::timoshenko`].

use crate::condensed_line::CondensedLine;
use crate::frame_mesh::{Mesh, NONE};
use crate::linear::{Banded, Square, dot};

/// A column between two levels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Flexural rigidity EI, kN·m².
    pub flexural_rigidity_kn_m2: f64,
    /// Shear rigidity G·A_s, kN; `None` leaves shear deformation out.
    pub shear_rigidity_kn: Option<f64>,
    /// Axial rigidity EA, kN; `None` is rigid to about seven figures.
    pub axial_rigidity_kn: Option<f64>,
    /// Rigid length above the lower level, m.
    pub rigid_bottom_m: f64,
    /// Rigid length below the upper level, m.
    pub rigid_top_m: f64,
}

/// A beam in one bay at one floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// Flexural rigidity EI, kN·m².
    pub flexural_rigidity_kn_m2: f64,
    /// Shear rigidity G·A_s, kN; `None` leaves shear deformation out.
    pub shear_rigidity_kn: Option<f64>,
    /// Rigid length right of the left column line, m.
    pub rigid_left_m: f64,
    /// Rigid length left of the right column line, m.
    pub rigid_right_m: f64,
}

/// A wall panel in one storey, over one bay or several.
///
/// The boundary columns are part of the composite: give no column elements inside the panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallPanel {
    /// Storey the panel stands in.
    pub storey: usize,
    /// First column line it covers.
    pub first_line: usize,
    /// Last column line it covers; more than `first_line`.
    pub last_line: usize,
    /// Ordinate of its centroidal axis along the frame line, m.
    pub axis_m: f64,
    /// Flexural rigidity EI of the composite, kN·m².
    pub flexural_rigidity_kn_m2: f64,
    /// Shear rigidity G·A_s, kN; `None` leaves shear deformation out.
    pub shear_rigidity_kn: Option<f64>,
    /// Axial rigidity EA, kN; `None` is rigid to about seven figures.
    pub axial_rigidity_kn: Option<f64>,
    /// What its foot stands on; read in the lowest storey only.
    pub base: Base,
}

/// How a support resists one movement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Restraint {
    /// No movement.
    Fixed,
    /// No resistance.
    Free,
    /// A linear spring: kN·m/rad for rotation, kN/m for vertical movement.
    Spring(f64),
}

/// The foot of a column line or wall; horizontal movement is always prevented.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Base {
    /// Resistance to rotation.
    pub rotation: Restraint,
    /// Resistance to vertical movement.
    pub vertical: Restraint,
}

impl Base {
    /// No rotation, no settlement.
    pub const FIXED: Self = Self { rotation: Restraint::Fixed, vertical: Restraint::Fixed };
    /// Free to rotate, no settlement.
    pub const PINNED: Self = Self { rotation: Restraint::Free, vertical: Restraint::Fixed };

    /// A footing that rotates on a spring (kN·m/rad) and does not settle.
    pub const fn rotating(stiffness_kn_m_per_rad: f64) -> Self {
        Self { rotation: Restraint::Spring(stiffness_kn_m_per_rad), vertical: Restraint::Fixed }
    }
}

/// A lateral spring between the two levels of a storey, such as the horizontal stiffness of a
/// masonry strut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StoreySpring {
    /// Storey the spring acts in.
    pub storey: usize,
    /// Horizontal stiffness, kN/m.
    pub stiffness_kn_per_m: f64,
}

/// One frame line as it is built up, member by member.
///
/// A column or beam that is absent is `None`; a line may end below the building's roof and may
/// lose columns on the way up. A joint without members takes no part.
///
/// ```
/// use sisterframe_core::frame_line::{Base, Beam, Column, FrameLine};
/// // A fixed portal, infinitely stiff beam: k = 2·12EI/h³.
/// let mut portal = FrameLine::new(&[0.0, 5.0], &[3.0]);
/// let column = Column {
///     flexural_rigidity_kn_m2: 30_000.0,
///     shear_rigidity_kn: None,
///     axial_rigidity_kn: None,
///     rigid_bottom_m: 0.0,
///     rigid_top_m: 0.0,
/// };
/// let beam = Beam {
///     flexural_rigidity_kn_m2: 3e13,
///     shear_rigidity_kn: None,
///     rigid_left_m: 0.0,
///     rigid_right_m: 0.0,
/// };
/// for line in 0..2 {
///     portal.set_column(0, line, column);
///     portal.bases[line] = Base::FIXED;
/// }
/// portal.set_beam(0, 0, beam);
/// let k = portal.condense()?.stiffness().at(0, 0);
/// assert!((k / (24.0 * 30_000.0 / 27.0) - 1.0).abs() < 1e-6);
/// # Ok::<(), sisterframe_core::frame_line::FrameLineError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct FrameLine {
    /// Ordinates of the column lines along the frame line, ascending, m.
    pub ordinates_m: Vec<f64>,
    /// Storey heights from the base up, m.
    pub storey_heights_m: Vec<f64>,
    columns: Vec<Option<Column>>,
    beams: Vec<Option<Beam>>,
    /// Wall panels, in any order.
    pub walls: Vec<WallPanel>,
    /// The foot of each column line; a foot under a wall panel follows the wall's instead.
    pub bases: Vec<Base>,
    /// Lateral springs, in any order.
    pub storey_springs: Vec<StoreySpring>,
}

/// Why a frame line could not be condensed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FrameLineError {
    /// Ordinates that do not ascend, or a storey without positive height, or no floor at all.
    Geometry,
    /// A column whose rigidities or rigid ends are out of range.
    Column {
        /// Its storey.
        storey: usize,
        /// Its column line.
        line: usize,
    },
    /// A beam whose rigidities or rigid ends are out of range.
    Beam {
        /// Its floor.
        floor: usize,
        /// Its bay.
        bay: usize,
    },
    /// A wall panel whose rigidities, axis or lines are out of range.
    Wall {
        /// Its place in [`FrameLine::walls`].
        index: usize,
    },
    /// A base spring that is negative or not a number.
    Base {
        /// Its column line.
        line: usize,
    },
    /// A storey spring that is negative, not a number, or in no storey.
    StoreySpring {
        /// Its place in [`FrameLine::storey_springs`].
        index: usize,
    },
    /// A joint that can rotate or move vertically without resistance.
    Unstable {
        /// Level of the joint: zero is the base, `f + 1` is floor `f`.
        level: usize,
        /// Its column line (the first of those that ride on a wall).
        line: usize,
    },
}

impl FrameLine {
    /// A line without members: fixed feet, column lines at `ordinates_m`, storeys from the base up.
    pub fn new(ordinates_m: &[f64], storey_heights_m: &[f64]) -> Self {
        let (lines, storeys) = (ordinates_m.len(), storey_heights_m.len());
        Self {
            ordinates_m: ordinates_m.to_vec(),
            storey_heights_m: storey_heights_m.to_vec(),
            columns: vec![None; lines * storeys],
            beams: vec![None; lines.saturating_sub(1) * storeys],
            walls: Vec::new(),
            bases: vec![Base::FIXED; lines],
            storey_springs: Vec::new(),
        }
    }

    /// Number of floors.
    pub fn floors(&self) -> usize {
        self.storey_heights_m.len()
    }

    /// Number of column lines.
    pub fn lines(&self) -> usize {
        self.ordinates_m.len()
    }

    /// Puts a column in `storey` on column line `line`.
    ///
    /// # Panics
    /// When there is no such storey or line.
    pub fn set_column(&mut self, storey: usize, line: usize, column: impl Into<Option<Column>>) {
        let lines = self.lines();
        self.columns[storey * lines + line] = column.into();
    }

    /// Puts a beam at `floor` in `bay`.
    ///
    /// # Panics
    /// When there is no such floor or bay.
    pub fn set_beam(&mut self, floor: usize, bay: usize, beam: impl Into<Option<Beam>>) {
        let bays = self.lines() - 1;
        self.beams[floor * bays + bay] = beam.into();
    }

    /// The column in `storey` on column line `line`, if there is one.
    pub fn column(&self, storey: usize, line: usize) -> Option<&Column> {
        self.columns.get(storey * self.lines() + line)?.as_ref()
    }

    /// The beam at `floor` in `bay`, if there is one.
    pub fn beam(&self, floor: usize, bay: usize) -> Option<&Beam> {
        let bays = self.lines().checked_sub(1)?;
        self.beams.get(floor * bays + bay)?.as_ref()
    }

    /// Condenses the line to one lateral displacement per floor.
    ///
    /// K = K_uu − K_ur·K_rr⁻¹·K_ru, with r the joint rotations and vertical displacements.
    /// Exact for the members given; costs one banded factorisation.
    ///
    /// # Errors
    /// A value out of range, or a joint that nothing holds; see [`FrameLineError`].
    pub fn condense(&self) -> Result<CondensedLine, FrameLineError> {
        self.check()?;
        let mesh = Mesh::new(self);
        let floors = self.floors();
        let hidden = mesh.hidden;

        let mut stiffness = Square::zero(floors);
        let mut coupling = vec![0.0; floors * hidden]; // K_ur, one row per floor
        let mut band = Banded::zero(hidden, mesh.half_width);
        let mut scatter = |dofs: [usize; 4], entries: [[f64; 4]; 4]| {
            for (i, &row) in dofs.iter().enumerate() {
                for (j, &column) in dofs.iter().enumerate() {
                    if row == NONE || column == NONE {
                        continue;
                    }
                    let value = entries[i][j];
                    match (row.checked_sub(floors), column.checked_sub(floors)) {
                        (None, None) => stiffness.add(row, column, value),
                        (None, Some(column)) => coupling[row * hidden + column] += value,
                        (Some(_), None) => {}
                        (Some(row), Some(column)) if column <= row => band.add(row, column, value),
                        (Some(_), Some(_)) => {}
                    }
                }
            }
        };
        for element in &mesh.elements {
            scatter(element.bending_dofs, element.bending_stiffness());
            if element.axial_stiffness > 0.0 {
                scatter(element.axial_dofs, element.axial_matrix());
            }
        }
        for spring in &mesh.base_springs {
            scatter(spring.dofs(), spring.matrix());
        }
        for spring in &self.storey_springs {
            let below = spring.storey.checked_sub(1).unwrap_or(NONE);
            let k = spring.stiffness_kn_per_m;
            scatter([below, spring.storey, NONE, NONE], [[k, -k, 0.0, 0.0], [-k, k, 0.0, 0.0], [0.0; 4], [0.0; 4]]);
        }

        let factor = band.factor().map_err(|failure| {
            let node = mesh
                .nodes
                .iter()
                .find(|node| node.vertical == floors + failure.row || node.rotation == floors + failure.row);
            let (level, line) = node.map_or((0, 0), |node| (node.level, node.first_line));
            FrameLineError::Unstable { level, line }
        })?;
        // Row f of the response: hidden displacements for a unit displacement of floor f alone.
        let mut response = coupling.clone();
        for floor in 0..floors {
            let row = &mut response[floor * hidden..(floor + 1) * hidden];
            factor.solve(row);
            for value in row.iter_mut() {
                *value = -*value;
            }
        }
        for i in 0..floors {
            for j in 0..floors {
                let correction = dot(&coupling[i * hidden..(i + 1) * hidden], &response[j * hidden..(j + 1) * hidden]);
                stiffness.add(i, j, correction);
            }
        }
        stiffness.symmetrise();
        Ok(CondensedLine {
            lines: self.lines(),
            stiffness,
            response,
            hidden,
            factor,
            nodes: mesh.nodes,
            elements: mesh.elements,
            storey_springs: self.storey_springs.clone(),
        })
    }

    fn check(&self) -> Result<(), FrameLineError> {
        let ascending = self.ordinates_m.windows(2).all(|pair| pair[0] < pair[1]);
        let tall = self.storey_heights_m.iter().all(|&h| positive(h));
        let finite = self.ordinates_m.iter().all(|x| x.is_finite());
        if !ascending
            || !tall
            || !finite
            || self.floors() == 0
            || self.bases.len() != self.lines()
            || self.columns.len() != self.floors() * self.lines()
            || self.beams.len() != self.floors() * self.lines().saturating_sub(1)
        {
            return Err(FrameLineError::Geometry);
        }
        for (storey, &height) in self.storey_heights_m.iter().enumerate() {
            for line in 0..self.lines() {
                if let Some(column) = self.column(storey, line) {
                    let sound = positive(column.flexural_rigidity_kn_m2)
                        && column.shear_rigidity_kn.is_none_or(positive)
                        && column.axial_rigidity_kn.is_none_or(positive)
                        && leaves_length(height, column.rigid_bottom_m, column.rigid_top_m);
                    if !sound {
                        return Err(FrameLineError::Column { storey, line });
                    }
                }
            }
            for bay in 0..self.lines().saturating_sub(1) {
                if let Some(beam) = self.beam(storey, bay) {
                    let span = self.ordinates_m[bay + 1] - self.ordinates_m[bay];
                    let sound = positive(beam.flexural_rigidity_kn_m2)
                        && beam.shear_rigidity_kn.is_none_or(positive)
                        && leaves_length(span, beam.rigid_left_m, beam.rigid_right_m);
                    if !sound {
                        return Err(FrameLineError::Beam { floor: storey, bay });
                    }
                }
            }
        }
        for (index, wall) in self.walls.iter().enumerate() {
            let sound = wall.storey < self.floors()
                && wall.first_line < wall.last_line
                && wall.last_line < self.lines()
                && wall.axis_m.is_finite()
                && positive(wall.flexural_rigidity_kn_m2)
                && wall.shear_rigidity_kn.is_none_or(positive)
                && wall.axial_rigidity_kn.is_none_or(positive)
                && wall.base.is_sound();
            if !sound {
                return Err(FrameLineError::Wall { index });
            }
        }
        if let Some(line) = self.bases.iter().position(|base| !base.is_sound()) {
            return Err(FrameLineError::Base { line });
        }
        let sound = |spring: &StoreySpring| {
            spring.storey < self.floors() && spring.stiffness_kn_per_m >= 0.0 && spring.stiffness_kn_per_m.is_finite()
        };
        match self.storey_springs.iter().position(|spring| !sound(spring)) {
            Some(index) => Err(FrameLineError::StoreySpring { index }),
            None => Ok(()),
        }
    }
}

impl Base {
    fn is_sound(&self) -> bool {
        [self.rotation, self.vertical].iter().all(|restraint| match restraint {
            Restraint::Fixed | Restraint::Free => true,
            Restraint::Spring(stiffness) => *stiffness >= 0.0 && stiffness.is_finite(),
        })
    }
}

fn positive(value: f64) -> bool {
    value > 0.0 && value.is_finite()
}

fn leaves_length(length: f64, start: f64, end: f64) -> bool {
    start >= 0.0 && end >= 0.0 && start + end < length
}
