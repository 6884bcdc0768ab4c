//! Sheet 4, Load path: how old and new share the load, and what crosses each connecting slab.

use super::ledger::{Ledger, LedgerRow, LineRow, SlabRow, StoreyRow, level_name, lines, slabs_a_level};
use super::{Ask, DirectionChooser, Hatches, Reading, bar, is_narrow, model_of, picture, rem};
use crate::drawing::{Body, Drawing, Flow, Look, Rows, bodies, free_body, slab_strip, stream};
use crate::view::View;
use leptos::ev::MouseEvent;
use leptos::prelude::*;
use sisterframe_core::glossary::Figure;
use sisterframe_core::project::Direction;
use sisterframe_core::reading;
use sisterframe_core::study::OptionKind;
use sisterframe_core::units::{Dimension, show};
use wasm_bindgen::JsCast;

/// Width of the force stream, px.
const STREAM_PX: f64 = 464.0;
/// Width of a plan strip, px, with room and without.
const STRIP_PX: [f64; 2] = [560.0, 320.0];

/// The sheet.
#[component]
pub fn LoadPath() -> impl IntoView {
    let view = View::of_page();
    let model = Memo::new(move |_| view.project.with(|project| model_of(project, view.option.get())));
    let rows = Memo::new(move |_| {
        let slabs = view.with_option(|option| slabs_a_level(option, view.direction.get())).unwrap_or(0);
        model.with(|model| Rows::of(&model.floors.iter().map(|floor| floor.height_m).collect::<Vec<_>>(), slabs))
    });
    let flow = Memo::new(move |_| view.with_option(|option| Flow::of(option, view.direction.get())).flatten());
    let narrow = is_narrow();
    let drawing = Memo::new(move |_| {
        let look = Look {
            direction: view.direction.get(),
            width: STREAM_PX,
            compact: narrow.get(),
            chosen: view.floor.get(),
            system: view.system.get(),
        };
        flow.get().map(|flow| model.with(|model| rows.with(|rows| stream(&flow, model, rows, look))))
    });
    let ledger = Memo::new(move |_| {
        view.with_option(|option| Ledger::of(option, view.direction.get(), view.system.get())).flatten()
    });
    let text = Memo::new(move |_| {
        view.with_option(|option| reading::load_path(option, view.direction.get(), view.system.get()))
            .unwrap_or_default()
    });
    let has_results = Memo::new(move |_| flow.with(Option::is_some));
    view! {
        <Hatches/>
        <Choosers/>
        {move || if has_results.get() {
            view! {
                <Lead flow=flow/>
                <div class="ledger-of-storeys">
                    <div class="stream-alone">{move || drawing.get().map(|drawing| stream_picture(view, &drawing))}</div>
                    <LedgerTable ledger=ledger rows=rows drawing=drawing/>
                </div>
                <Reading text=text/>
                <div class="side-by-side">
                    <Strips/>
                    <CutFree/>
                </div>
                <Lines/>
            }
            .into_any()
        } else {
            view! { <p class="lead">{move || withheld(view.option.get())}</p> }.into_any()
        }}
    }
}

/// Why there is nothing to show.
fn withheld(kind: OptionKind) -> &'static str {
    match kind {
        OptionKind::Rebuild => {
            "A new building is taken to meet the current code; its load path is not computed here. Choose another option."
        }
        OptionKind::AsItStands | OptionKind::Scheme { .. } => {
            "The results of this direction are withheld; the Options sheet says why under “Watch for”."
        }
    }
}

/// Chooses option and direction.
#[component]
fn Choosers() -> impl IntoView {
    let view = View::of_page();
    let options = Memo::new(move |_| {
        view.study.with(|study| {
            let named = study.options.iter().filter(|option| option.kind != OptionKind::Rebuild);
            named.map(|option| (option.kind, option.letter.clone(), option.name.clone())).collect::<Vec<_>>()
        })
    });
    let button = move |(kind, letter, name): (OptionKind, String, String)| {
        view! {
            <button
                type="button"
                aria-pressed=move || (view.option.get() == kind).to_string()
                on:click=move |_| view.choose_option(kind)
            >
                {(!letter.is_empty()).then(|| view! { <b>{letter}</b> " " })}
                {name}
            </button>
        }
    };
    view! {
        <div class="choosers">
            <div class="chooser" role="group" aria-label="Option">
                {move || options.get().into_iter().map(button).collect_view()}
            </div>
            <DirectionChooser of="Direction of the load path"/>
        </div>
    }
}

/// What the drawing shows and how to read it.
#[component]
fn Lead(
    /// The forces.
    flow: Memo<Option<Flow>>,
) -> impl IntoView {
    let view = View::of_page();
    let title = move || {
        let name = view.with_option(|option| {
            if option.letter.is_empty() { option.name.clone() } else { format!("{} {}", option.letter, option.name) }
        });
        format!("{}, {}. ", name.unwrap_or_default(), view.direction.get().label())
    };
    let frames = move || {
        let frames = flow.with(|flow| flow.as_ref().map_or(0, |flow| flow.frames.len()));
        match frames {
            0 => "",
            1 => " The external frame stands in front of the building, parallel to it; it is drawn unfolded beside it.",
            _ => {
                " The external frames stand in front of the building, parallel to it; they are drawn unfolded beside it, and as one."
            }
        }
    };
    view! {
        <p class="lead">
            <strong>{title}</strong>
            "Forces of the elastic spectrum, not divided by any factor. The width of a band is its force, on one \
            scale; heights are to scale, lengths are not." {frames}
            <span class="on-screen">" Pick a floor to cut it free."</span>
        </p>
    }
}

/// The force stream; a click picks the floor.
fn stream_picture(view: View, drawing: &Drawing) -> impl IntoView + use<> {
    let pick = move |event: MouseEvent| {
        let target = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
        let floor = target.and_then(|target| target.get_attribute("data-floor")).and_then(|floor| floor.parse().ok());
        if let Some(floor) = floor {
            view.choose_floor((view.floor.get_untracked() != Some(floor)).then_some(floor));
        }
    };
    view! { <div class="stream" on:click=pick>{picture(drawing, "picture flow")}</div> }
}

/// The ledger, its rows as high as the drawn storeys.
#[component]
fn LedgerTable(
    /// Its rows.
    ledger: Memo<Option<Ledger>>,
    /// Their heights.
    rows: Memo<Rows>,
    /// The drawing that stands in its first column.
    drawing: Memo<Option<Drawing>>,
) -> impl IntoView {
    let view = View::of_page();
    let has_slabs = Memo::new(move |_| ledger.with(|ledger| ledger.as_ref().is_some_and(|ledger| ledger.has_slabs)));
    let body = move || {
        let ledger = ledger.get().unwrap_or_default();
        let rows = rows.get();
        let count = ledger.rows.len();
        let span = (2 * count + 1).to_string();
        let has_slabs = ledger.has_slabs;
        ledger
            .rows
            .into_iter()
            .enumerate()
            .map(|(place, row)| {
                let height = rows.storey_px.get(count - 1 - place).copied().unwrap_or(60.0);
                let picture = (place == 0).then(|| {
                    view! {
                        <td class="ledger-picture" role="cell" rowspan=span.clone()>
                            {move || drawing.get().map(|drawing| stream_picture(view, &drawing))}
                        </td>
                    }
                });
                let LedgerRow { level, storey, slabs } = row;
                view! {
                    {floor_row(view, storey.storey, level, slabs, has_slabs, rows.floor_px, picture)}
                    {storey_row(storey, has_slabs, height)}
                }
            })
            .collect_view()
    };
    let slab_heads = move || {
        has_slabs.get().then(|| {
            [Figure::SlabDemand, Figure::ShearFriction, Figure::StripShear, Figure::Utilisation]
                .map(|figure| head(figure, "slab"))
                .collect_view()
        })
    };
    view! {
        <table class="ledger" role="table" class:with-slabs=move || has_slabs.get()>
            <caption class="read-only-aloud">"Storey ledger, from the roof down: storeys and the floors between them by turns"</caption>
            <thead role="rowgroup">
                <tr role="row">
                    <td role="cell" class="ledger-picture"></td>
                    <td role="cell" class="corner"></td>
                    {[Figure::StoreyShear, Figure::Shares, Figure::Drift].map(|figure| head(figure, "")).collect_view()}
                    {slab_heads}
                </tr>
            </thead>
            <tbody role="rowgroup">
                {body}
                <tr role="row" class="ground" style:height=move || rem(rows.with(|rows| rows.ground_px))>
                    <th role="rowheader" scope="row">"Ground"</th>
                </tr>
            </tbody>
        </table>
    }
}

fn head(figure: Figure, class: &'static str) -> impl IntoView {
    view! {
        <th role="columnheader" scope="col" class=class>
            {figure.entry().title} <Ask figure=figure within="ledger"/>
        </th>
    }
}

/// A floor with its connecting slabs.
fn floor_row(
    view: View,
    floor: u32,
    level: String,
    slabs: Vec<SlabRow>,
    has_slabs: bool,
    height_px: f64,
    picture: Option<impl IntoView + 'static>,
) -> impl IntoView {
    let chosen = move || view.floor.get() == Some(floor);
    let pick = move |_| view.choose_floor((view.floor.get_untracked() != Some(floor)).then_some(floor));
    let cell = |label: &'static str, text: &dyn Fn(&SlabRow) -> AnyView| {
        let lines = slabs
            .iter()
            .map(|slab| {
                let face = slab.face.clone().filter(|_| label == SLAB_DEMAND).map(|face| {
                    view! { <span class="face">{face}</span> }
                });
                view! { <div class="one-slab">{face}<div>{text(slab)}</div></div> }
            })
            .collect_view();
        view! { <td role="cell" class="slab" data-label=label>{lines}</td> }
    };
    let cells = (has_slabs && !slabs.is_empty()).then(|| {
        let strength = |text: &str, governs: bool| {
            if governs {
                view! { <u class="governs">{text.to_owned()}</u> <span class="read-only-aloud">" governs"</span> }
                    .into_any()
            } else {
                text.to_owned().into_any()
            }
        };
        view! {
            {cell(SLAB_DEMAND, &|slab| {
                view! { <b>{slab.demand.clone()}</b> <span class="note bound">{slab.bound}</span> }.into_any()
            })}
            {cell("Shear friction φVₙ", &|slab| {
                let short = slab.anchorage_limited.then(|| view! { <span class="note bound">"by anchorage"</span> });
                view! { {strength(&slab.friction, slab.friction_governs)} {short} }.into_any()
            })}
            {cell("Strip in shear φVₙ", &|slab| strength(&slab.strip, !slab.friction_governs))}
            {cell("Utilisation", &|slab| {
                let word = if slab.short { "too weak" } else { "carries" };
                view! { <b>{slab.utilisation.clone()}</b> <span class="note bound">{word}</span> }.into_any()
            })}
        }
    });
    view! {
        <tr role="row" class="floor" class:chosen=chosen style:height=rem(height_px)>
            {picture}
            <th role="rowheader" scope="row">
                <button type="button" class="level" aria-pressed=move || chosen().to_string() on:click=pick>{level}</button>
            </th>
            <td role="cell" class="line" colspan="3"></td>
            {cells}
        </tr>
    }
}

const SLAB_DEMAND: &str = "Slab demand";

/// A storey with its shear, shares and drift.
fn storey_row(storey: StoreyRow, has_slabs: bool, height_px: f64) -> impl IntoView {
    let shares = storey
        .shares
        .iter()
        .map(|(class, share)| view! { <span class="share">{share.clone()} " " <span class="note">{class.label()}</span></span> })
        .collect_view();
    view! {
        <tr role="row" class="storey" style:height=rem(height_px)>
            <th role="rowheader" scope="row">"Storey " {storey.storey}</th>
            <td role="cell" data-label="Storey shear"><b>{storey.shear}</b></td>
            <td role="cell" data-label="Shares">{bar(&storey.bar)} <p class="shares">{shares}</p></td>
            <td role="cell" data-label="Storey drift">{storey.drift} " " <span class="note">{storey.part}</span></td>
            {has_slabs.then(|| view! { <td role="cell" class="empty" colspan="4"></td> })}
        </tr>
    }
}

/// The floor the lower drawings are about: the one picked, or the one whose slab is used
/// most, or the first.
fn floor_in_view(view: View) -> u32 {
    let along_x = view.direction.get() == Direction::X;
    view.floor.get().unwrap_or_else(|| {
        view.with_option(|option| {
            option
                .slabs
                .iter()
                .filter(|slab| slab.along_x == along_x)
                .max_by(|a, b| a.utilisation.total_cmp(&b.utilisation))
                .map(|slab| slab.level)
        })
        .flatten()
        .unwrap_or(1)
    })
}

/// Connecting slabs seen from above.
#[component]
fn Strips() -> impl IntoView {
    let view = View::of_page();
    let narrow = is_narrow();
    let drawings = Memo::new(move |_| {
        let width = STRIP_PX[usize::from(narrow.get())];
        let (direction, level, system) = (view.direction.get(), floor_in_view(view), view.system.get());
        let model = view.project.with(|project| model_of(project, view.option.get()));
        view.with_option(|option| {
            option
                .slabs
                .iter()
                .filter(|slab| slab.along_x == (direction == Direction::X) && slab.level == level)
                .filter_map(|slab| {
                    let frame = model
                        .frames
                        .iter()
                        .find(|frame| frame.direction == direction && frame.spec.face == slab.face)?;
                    Some(slab_strip(&model, frame, slab, width, system))
                })
                .collect::<Vec<_>>()
        })
        .unwrap_or_default()
    });
    let title = move || format!("Connecting slab from above, level {}", floor_in_view(view));
    move || {
        (!drawings.with(Vec::is_empty)).then(|| {
            view! {
                <section class="strips" aria-labelledby="strips-title">
                    <h2 id="strips-title">{title}</h2>
                    <p class="note">
                        "The slab works in shear in its own plane: one edge is pushed with the building, the other \
                        held by the frame. Across the face the drawing is widened."
                    </p>
                    {move || drawings.get().iter().map(|drawing| picture(drawing, "picture strip")).collect_view()}
                </section>
            }
        })
    }
}

/// A floor cut free, with the forces on it.
#[component]
fn CutFree() -> impl IntoView {
    let view = View::of_page();
    let cut = Memo::new(move |_| {
        let level = floor_in_view(view);
        view.with_option(|option| bodies(option, view.direction.get(), level)).unwrap_or_default()
    });
    let storeys = Memo::new(move |_| view.study.with(|study| study.storeys.len()));
    let level = move |level: u32| {
        view! {
            <button
                type="button"
                aria-pressed=move || (floor_in_view(view) == level).to_string()
                on:click=move |_| view.choose_floor(Some(level))
            >
                {level_name(level, storeys.get_untracked())}
            </button>
        }
    };
    view! {
        <section class="cut-free" aria-labelledby="cut-title">
            <h2 id="cut-title">
                "A floor cut free: " {move || level_name(floor_in_view(view), storeys.get())}
                " " <Ask figure=Figure::FloorForce within="cut"/>
            </h2>
            <div class="chooser" role="group" aria-label="Floor cut free">
                {move || (1..=storeys.get() as u32).map(level).collect_view()}
            </div>
            {move || {
                let cut = cut.get();
                let forces = cut.iter().flat_map(|body| &body.terms).map(|term| term.force_kn.abs());
                let most = forces.fold(0.0, f64::max);
                cut.iter().map(|body| floor_cut_free(view, body, most)).collect_view()
            }}
        </section>
    }
}

fn floor_cut_free(view: View, body: &Body, most_kn: f64) -> impl IntoView + use<> {
    let system = view.system.get();
    let force = |value: f64| show(value, Dimension::Kilonewtons, system);
    let rest = body.rest_kn();
    // What is left below a millionth is rounding, not force.
    let rest = if rest.abs() <= 1e-6 * most_kn { 0.0 } else { rest };
    let terms = body
        .terms
        .iter()
        .map(|term| view! { <tr><th scope="row">{term.name.clone()}</th><td>{force(term.force_kn)}</td></tr> })
        .collect_view();
    view! {
        <div class="body">
            {picture(&free_body(body, most_kn, system), "picture free-body")}
            <table class="numbers">
                <caption>{body.name.clone()}</caption>
                <tbody>{terms}</tbody>
                <tfoot><tr><th scope="row">"Sum"</th><td>{force(rest)}</td></tr></tfoot>
            </table>
        </div>
    }
}

/// What every frame line carries.
#[component]
fn Lines() -> impl IntoView {
    let view = View::of_page();
    let rows = Memo::new(move |_| {
        let (direction, system) = (view.direction.get(), view.system.get());
        view.study.with(|study| view.with_option(|option| lines(study, option, direction, system))).unwrap_or_default()
    });
    let storeys = Memo::new(move |_| rows.with(|rows| rows.first().map_or(0, |row| row.cells.len())));
    let force = move || Dimension::Kilonewtons.unit(view.system.get()).symbol;
    let length = move || Dimension::Millimetres.unit(view.system.get()).symbol;
    view! {
        <section class="lines" aria-labelledby="lines-title">
            <h2 id="lines-title">
                "What each line carries, " {move || view.direction.get().label()} " " <Ask figure=Figure::LineShear within="lines"/>
            </h2>
            <p class="note">
                "Storey shear (" {force} "); below it the shear with accidental eccentricity to the worse side, and \
                the drift of the line (" {length} "). ▲ marks a line that carries clearly more than in the building \
                as it stands."
            </p>
            <div class="scroller" role="region" aria-label="Shears of the lines" tabindex="0">
                <table class="numbers">
                    <thead>
                        <tr>
                            <th scope="col">"Line"</th>
                            <th scope="col">"Stands at"</th>
                            {move || (1..=storeys.get()).map(|storey| view! { <th scope="col">"Storey " {storey}</th> }).collect_view()}
                        </tr>
                    </thead>
                    <tbody>{move || rows.get().into_iter().map(line_row).collect_view()}</tbody>
                </table>
            </div>
        </section>
    }
}

fn line_row(row: LineRow) -> impl IntoView {
    let worse = row.is_worse();
    let cells = row
        .cells
        .into_iter()
        .map(|cell| {
            let before = cell.before.map(|before| view! { <span class="note worse">"▲ was " {before}</span> });
            view! {
                <td>
                    <b>{cell.shear}</b>
                    <span class="note">"with ecc. " {cell.with_accidental}</span>
                    {before}
                    <span class="note">"drift " {cell.drift}</span>
                </td>
            }
        })
        .collect_view();
    view! {
        <tr class:worse-line=worse class:external=row.external>
            <th scope="row">
                {row.name} {worse.then_some(" ▲")}
                <span class="note">{if row.external { "external frame" } else { "frame line" }}</span>
            </th>
            <td>{row.ordinate}</td>
            {cells}
        </tr>
    }
}
