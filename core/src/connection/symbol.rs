//! The symbols a working of a connection is written in.

use crate::units::Dimension;
use serde::Serialize;

/// Declares the symbols once: variant, sign, meaning, what it measures.
macro_rules! symbols {
    ($( $variant:ident = $sign:literal, $words:literal, $dimension:ident; )*) => {
        /// A figure of a working.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Symbol { $( #[doc = $words] $variant, )* }

        impl Symbol {
            /// Every one.
            pub const ALL: &'static [Self] = &[ $( Self::$variant, )* ];

            /// As formulas write it.
            pub const fn sign(self) -> &'static str {
                match self { $( Self::$variant => $sign, )* }
            }

            /// What it is.
            pub const fn words(self) -> &'static str {
                match self { $( Self::$variant => $words, )* }
            }

            /// What it measures.
            pub const fn dimension(self) -> Dimension {
                match self { $( Self::$variant => Dimension::$dimension, )* }
            }
        }
    };
}

symbols! {
    Force = "N", "force to be passed", Kilonewtons;
    ElasticForce = "N_el", "force under the elastic spectrum, accidental eccentricity included", Kilonewtons;
    PerformanceForce = "N_pp", "force at the performance point, raised for dynamic effects", Kilonewtons;
    MechanismForce = "N_m", "force when the added frame reaches its own mechanism or its footings lift", Kilonewtons;
    FloorForce = "N_min", "share of the least force on the floor", Kilonewtons;
    DeliverableForce = "N_max", "the most the storeys above and below can differ by", Kilonewtons;
    ShearBelow = "V_b", "shear of the added frame below the floor, elastic pattern", Kilonewtons;
    ShearAbove = "V_a", "shear of the added frame above the floor, elastic pattern", Kilonewtons;
    OwnInertia = "F_a", "inertia of the added frame's own mass at the floor", Kilonewtons;
    Lever = "e", "from the frame's axis to the old joint", Metres;
    NewLever = "e_n", "from the frame's axis to the new joint", Metres;
    Moment = "M", "in-plane moment at the joint, N·e", KilonewtonMetres;
    Arm = "z", "lever arm of the chords, 0.8·L", Metres;
    Chord = "T_M", "chord tension of that moment, M/z", Kilonewtons;
    ChordSteel = "A_M", "chord steel the moment asks for", SquareMillimetres;
    DirectTension = "T_d", "pull across the joint by the frame's own mass", Kilonewtons;
    NetTension = "T", "pull taken off the clamping", Kilonewtons;
    Length = "L", "length of the joint along the force", Metres;
    Gap = "g", "clear width of the strip", Metres;
    Thickness = "t", "thickness", Millimetres;
    Contact = "t_c", "height of the contact", Millimetres;
    Drop = "a", "drop of the slab's top below the top of the old beam", Millimetres;
    BeamWidth = "b", "width of the old beam", Millimetres;
    BeamDepth = "h", "depth of the old beam", Millimetres;
    NewBeamWidth = "b_n", "width of the new beam", Millimetres;
    NewBeamDepth = "h_n", "depth of the new beam", Millimetres;
    Bar = "d_b", "diameter of the bars across the joint", Millimetres;
    Spacing = "s", "their spacing", Millimetres;
    Layers = "n_l", "their layers", Number;
    AlongBar = "d_p", "diameter of the bars along the joint", Millimetres;
    AlongSpacing = "s_p", "their spacing", Millimetres;
    Bars = "n", "bars across the joint", Number;
    Steel = "A_s", "steel across the joint", SquareMillimetres;
    Embedment = "l", "embedment in the old concrete", Millimetres;
    Development = "l_d", "development length to yield in the old concrete", Millimetres;
    NewDevelopment = "l_n", "development length to yield in the new concrete", Millimetres;
    Yield = "f_y", "yield strength of the bars", Megapascals;
    BarStress = "f_s", "stress the bars reach", Megapascals;
    OldConcrete = "f_o", "strength of the old concrete", Megapascals;
    NewConcrete = "f_n", "strength of the new concrete", Megapascals;
    Clamping = "C", "clamping by the bars, their steel times their stress", Kilonewtons;
    Friction = "μ", "friction coefficient", Number;
    Cap = "V_max", "upper bound of the clause", Kilonewtons;
    ConcreteShear = "V_c", "part of the concrete", Kilonewtons;
    SteelShear = "V_s", "part of the steel", Kilonewtons;
    Factor = "φ", "strength reduction", Number;
    Overstrength = "γ_d", "overstrength on the force of a connection that must not give way", Number;
    Peak = "p", "largest over mean shear along the joint", Number;
    BreakoutOfBar = "N_cb", "pull at which concrete breaks out round one bar of the row", Kilonewtons;
    Pull = "T_b", "pull on the bars of the tensioned half", Kilonewtons;
    Stiffness = "k", "in-plane stiffness of the strip in the analysis", KilonewtonsPerMetre;
    Shear = "V", "shear", Kilonewtons;
    PanelShear = "V_p", "part of it through the panel", Kilonewtons;
    UprightShear = "V_h", "shear along each column: that part times height over length", Kilonewtons;
    OwnStrength = "V_u", "the most the member can take otherwise", Kilonewtons;
    ColumnShear = "V_col", "what the columns at its ends pass", Kilonewtons;
    OldPanels = "V_old", "what old panels beside it pass", Kilonewtons;
    Height = "H", "clear height", Metres;
    ShearFlow = "q", "shear flow along the edge", KilonewtonsPerMetre;
    InnerArm = "j", "inner lever arm I/Q of the part beyond the joint", Metres;
    Resultant = "x", "from the joint to the middle of the bending stress beyond it", Metres;
    ShearBeyond = "V_x", "part of the shear beyond the joint, V·x/j", Kilonewtons;
    UprightBar = "d_u", "diameter of the upright bars", Millimetres;
    UprightBars = "n_u", "their number", Number;
    SkinBeyond = "t_1", "thickness on the face looked at", Millimetres;
    SkinBefore = "t_2", "thickness on the face opposite", Millimetres;
    SkinLower = "t_3", "thickness on one face beside the force", Millimetres;
    SkinHigher = "t_4", "thickness on the other face beside it", Millimetres;
    BarEdge = "c_u", "from the outer face to their middle", Millimetres;
    ColumnDepth = "h_c", "depth of the old column along the force", Metres;
    ColumnWidth = "b_c", "width of the old column across it", Metres;
    OtherWing = "L_2", "length of the wing on the other side", Metres;
    Width = "B", "width", Metres;
    LineLength = "L_f", "length of floor along the line", Metres;
    CollectorForce = "T_c", "largest force in the beams along the line, floor force in and wall or frame out", Kilonewtons;
    Gravity = "P", "gravity at the foot with the footing", Kilonewtons;
    OldFoot = "M_c", "what the old column alone brings to its footing, which holds it as built", KilonewtonMetres;
    Overturning = "M_o", "overturning moment", KilonewtonMetres;
    Righting = "M_r", "moment that gravity and rocking resist", KilonewtonMetres;
    Couple = "ΔP", "couple force in the end columns", Kilonewtons;
    Compression = "P_c", "largest load under one pad", Kilonewtons;
    Uplift = "P_t", "least load under one pad", Kilonewtons;
    TieForce = "T_t", "sliding force that friction leaves to the ties", Kilonewtons;
    Span = "L_o", "between the end columns", Metres;
    PadMoment = "M_p", "moment of one pad", KilonewtonMetres;
    FootingLength = "L", "length of the footing along the force", Metres;
    FootingDepth = "D", "depth of the footing", Metres;
    Ultimate = "q_c", "ultimate bearing pressure", Kilopascals;
    Pressure = "q", "pressure on the ground", Kilopascals;
    Contacted = "L_c", "length in contact", Metres;
    Eccentricity = "e", "eccentricity of the load", Metres;
    Sliding = "V", "base shear", Kilonewtons;
    SlidingFriction = "μ", "friction on the ground", Number;
    HoldDown = "T_h", "hold-down force needed at one end", Kilonewtons;
    AddedWeight = "P_a", "or weight to add", Kilonewtons;
    Settlement = "Δ", "settlement of the pads under their own load", Millimetres;
    BeamMoments = "ΣM_b", "moments the beams can bring to the middle of the joint", KilonewtonMetres;
    ColumnMoments = "ΣM_c", "moments the columns can bring there", KilonewtonMetres;
    JointLever = "j_d", "lever arm of the beams' bars, 0.8 of their depth", Metres;
    StoreyHeight = "h_s", "height of the storey", Metres;
    JointArea = "A_j", "area of the joint", SquareMillimetres;
    JointCoefficient = "γ", "strength over √f_e·A_j, MPa and mm²", Number;
    ExpectedConcrete = "f_e", "expected strength of the old concrete", Megapascals;
    FloorSpan = "L", "between the stiff lines", Metres;
    FloorDepth = "B", "depth of the floor in plan along the force", Metres;
    FloorLoad = "w", "force of the floor over its width", KilonewtonsPerMetre;
    FloorLever = "z", "lever arm of its chords, 0.9·B", Metres;
    FloorSag = "δ_d", "its elastic sag in plan, a quarter of the gross stiffness in bending", Millimetres;
    Drift = "δ_s", "elastic drift of the storey", Millimetres;
    Flexibility = "δ_d/δ_s", "sag over drift", Number;
    SettlementAssumed = "Δ", "settlement of the new footings assumed (common practice, no source)", Millimetres;
    SettlementMoment = "M_Δ", "moment in the strip held at both ends, 6·E·I·Δ/g²", KilonewtonMetres;
    CrackingMoment = "M_cr", "moment at which the strip cracks", KilonewtonMetres;
    Clearance = "c", "from the face of the old column to the new footing", Metres;
}
