//! Masonry of full height as struts, and what a strut does to the columns it leans on.

use super::hinges::LEFT_AFTER_SLIP;
use super::{LineStrengths, Work, secant};
use crate::failure::Failure;
use crate::finding::{Code, Finding};
use crate::framing::FramedLine;
use crate::hinge::{At, HingeStrength, LEAST_DROP, Resistance};
use crate::line_mode::Hinge;
use crate::masonry_panel::{LIMIT_RATIO, Strut, strut};
use crate::member::{Carried, Member, Strength};
use crate::model::{Column, MasonryPanel};
use crate::phrase::Phrase;
use crate::place::{Class, Place};
use crate::rules::{ColumnShear, Ruled};
use crate::units::Dimension;

/// A column that shears where a strut leans on it.
struct Sheared {
    place: Place,
    /// What the strut brings, kN.
    brought_kn: f64,
    /// What the column carries over the contact, kN.
    strength_kn: f64,
}

impl Work<'_> {
    /// A panel as a member of its storey and as a spring of the capacity curve.
    ///
    /// Where the strut brings more shear to the end of a column than it carries there, the column
    /// gives first and takes the strut with it: the panel then has the column's strength, no
    /// ductility, and gravity support is lost with it.
    pub(super) fn masonry(
        &mut self,
        (index, line): (usize, &FramedLine),
        strengths: Option<&LineStrengths>,
        place: usize,
        carried: &Carried,
    ) -> Ruled<Member> {
        let model = self.sections.model;
        let panel = &model.masonry[line.masonry[place]];
        let modulus = self.rules().concrete_modulus_mpa(self.sections.old_concrete_mpa())?;
        let strut = strut(model, panel, modulus, self.rules())?;
        let sheared = self.sheared_by(line, strengths, panel, &strut)?;
        let strength_kn = sheared.as_ref().map_or(strut.strength_kn, |own| own.strength_kn);
        let own_place = model.panel_place(self.direction, line.line, panel.bay, panel.storey);
        let stiffness = secant(carried, strut.stiffness_kn_m);
        let height = model.floors[panel.storey as usize - 1].height_m;
        let yields = 1000.0 * strength_kn / stiffness;
        let (failure, lasts) = match &sheared {
            Some(_) => (Failure::Shear, yields),
            None => (Failure::Masonry, yields.max(1000.0 * height * LIMIT_RATIO)),
        };
        if let Some(own) = &sheared {
            let detail = Phrase::from(format!("{}, ", own.place))
                .show(own.brought_kn, Dimension::Kilonewtons)
                .and(" against ")
                .show(own.strength_kn, Dimension::Kilonewtons);
            self.found.push(Finding::new(Code::MasonryHarms, own.place.clone(), detail));
        }
        self.strut_hinge(index, place, own_place.clone(), panel.storey, &strut, sheared);
        let strength = Strength {
            strength_kn,
            flexural_kn: strut.strength_kn,
            shear_kn: strength_kn,
            failure,
            cracking_kn: strength_kn,
            yield_drift_mm: yields,
            limit_drift_mm: lasts,
            backbone: None,
            checked_shear_kn: None,
            ways: [None; 5],
        };
        Ok(Member {
            place: own_place,
            class: carried.class,
            line: model.lines(self.direction)[line.line].name.clone(),
            axial_kn: 0.0,
            clear_height_m: height,
            stiffness_kn_m: stiffness,
            senses: [strength; 2],
            joint_ratio: None,
            overturning_kn: None,
        })
    }

    /// The weaker of the columns beside a panel that its strut shears, if any. A column inside a
    /// concrete wall is held by the wall.
    fn sheared_by(
        &self,
        line: &FramedLine,
        strengths: Option<&LineStrengths>,
        panel: &MasonryPanel,
        strut: &Strut,
    ) -> Ruled<Option<Sheared>> {
        let model = self.sections.model;
        let s = panel.storey as usize - 1;
        let mut weaker: Option<Sheared> = None;
        for end in [panel.bay as usize - 1, panel.bay as usize] {
            let Some(column) = model.column_on(self.direction, line.line, end, panel.storey) else { continue };
            let Some(moments) = strengths.and_then(|own| own.columns[s][end]) else { continue };
            let brought_kn = strut.on_column_kn(moments[0].max(moments[1]));
            let strength_kn = self.contact_shear_kn(column, strut.contact_m)?;
            if strength_kn < brought_kn && weaker.as_ref().is_none_or(|own| strength_kn < own.strength_kn) {
                weaker = Some(Sheared { place: model.column_place(column), brought_kn, strength_kn });
            }
        }
        Ok(weaker)
    }

    /// Shear strength of a column's end over the height a strut leans on it, kN.
    fn contact_shear_kn(&self, column: &Column, contact_m: f64) -> Ruled<f64> {
        let factor = self.jacket_factors(column)?.map_or(1.0, |factors| factors.shear);
        let asked = ColumnShear { shear_span_mm: 500.0 * contact_m, ductility: 0.0, ..self.column_shear(column)? };
        Ok(factor * self.rules().column_shear(&asked)?.undamaged_kn + self.wing_shear_kn(column, contact_m)?)
    }

    fn strut_hinge(
        &mut self,
        line: usize,
        index: usize,
        place: Place,
        storey: u32,
        strut: &Strut,
        sheared: Option<Sheared>,
    ) {
        let height = self.model().floors[storey as usize - 1].height_m;
        let slips = Resistance {
            residual: LEFT_AFTER_SLIP,
            drop: LEAST_DROP * height,
            ..Resistance::lasting(strut.strength_kn)
        };
        let (place, failure, own) = match sheared {
            Some(own) => (
                own.place,
                Failure::Shear,
                Resistance {
                    strength: own.strength_kn,
                    onset: [own.strength_kn, 0.0],
                    capping: 0.0,
                    loss: LEAST_DROP * height,
                    accepted: [0.0; 3],
                    ..slips
                },
            ),
            None => {
                let elastic = strut.strength_kn / strut.stiffness_kn_m;
                (place, Failure::Masonry, Resistance { capping: (LIMIT_RATIO * height - elastic).max(0.0), ..slips })
            }
        };
        self.hinges.push(HingeStrength {
            at: At::Line(line),
            hinges: vec![Hinge::StoreySpring { index }],
            place,
            class: Class::AsBuilt,
            storey,
            failure,
            vertical: failure == Failure::Shear,
            senses: [Some(own); 2],
        });
    }
}
