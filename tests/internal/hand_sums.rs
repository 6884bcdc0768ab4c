//! Labour of four small jobs against hand sums, activity by activity.
//!
//! Every row is quantity × people ÷ what the crew does in a day. Quantities are worked out by hand
//! from the drawings of the jobs; rates are typed in again from the planners' table (slow, usual and
//! fast; its sources and marks are on the Works part of the bench), so that a figure changed by
//! mistake on either side shows. Masses of bars are the nominal ones of ISO 6935-2 (MEMORY): 10 mm
//! 0.617, 12 mm 0.888, 16 mm 1.58, 20 mm 2.47, 22 mm 2.98, 25 mm 3.85 kg/m. A tenth is added for laps.
//! The planners' own rounded sums of the same jobs (common practice, no source) are printed beside.

use super::works::{INFILL, JACKET, PLAIN, Sample, WINGS, frame, works_of};
use sisterframe_core::study::{Band, WorksResult};
use sisterframe_tests::approx::is_near;

/// A row of a hand sum.
struct Row {
    code: &'static str,
    quantity: f64,
    people: f64,
    /// Units a crew does in a day: slow, usual, fast.
    rate: [f64; 3],
}

const fn row(code: &'static str, quantity: f64, people: f64, rate: [f64; 3]) -> Row {
    Row { code, quantity, people, rate }
}

impl Row {
    /// Man-days: fast, usual, slow.
    fn man_days(&self) -> [f64; 3] {
        let [slow, usual, fast] = self.rate;
        [fast, usual, slow].map(|rate| self.quantity * self.people / rate)
    }
}

const fn in_order(band: Band) -> [f64; 3] {
    [band.low, band.mid, band.high]
}

/// Each activity within 1 % of its row, none more or less than there are rows, their sum within 1 %
/// at every pace, slow at least usual at least fast.
#[track_caller]
fn assert_sum(job: &str, works: &[(String, Band)], rows: &[Row], planner: [f64; 3]) {
    let mut sums = [0.0; 3];
    println!("{job}: man-days fast, usual, slow");
    for row in rows {
        let by_hand = row.man_days();
        let own = works.iter().find(|(code, _)| code == row.code).map_or([0.0; 3], |(_, band)| in_order(*band));
        println!("  {:<12} {:>8.3} by hand {by_hand:6.2?}, engine {own:6.2?}", row.code, row.quantity);
        let near = own.iter().zip(by_hand).all(|(own, by_hand)| is_near(*own, by_hand, 0.01));
        assert!(near, "{job}, {}: {own:?}, by hand {by_hand:?}", row.code);
        for (sum, days) in sums.iter_mut().zip(by_hand) {
            *sum += days;
        }
    }
    let unlisted: Vec<&str> =
        works.iter().map(|(code, _)| code.as_str()).filter(|code| rows.iter().all(|row| row.code != *code)).collect();
    assert!(unlisted.is_empty(), "{job}: not in the hand sum: {unlisted:?}");
    let total = works.iter().fold([0.0; 3], |sum, (_, band)| {
        let own = in_order(*band);
        [sum[0] + own[0], sum[1] + own[1], sum[2] + own[2]]
    });
    println!("  sum by hand {sums:.2?}, engine {total:.2?}; planners' rounded sum {planner:?} (common practice)");
    let near = total.iter().zip(sums).all(|(own, by_hand)| is_near(*own, by_hand, 0.01));
    assert!(near, "{job}: {total:?}, by hand {sums:?}");
    assert!(total[0] <= total[1] && total[1] <= total[2], "{job}: {total:?}");
}

/// Labour by activity without what belongs to rooms and to the site.
fn at_the_member(works: &WorksResult) -> Vec<(String, Band)> {
    let apart = ["PREP_MOVE", "HANDOVER", "EXT_SITE"];
    let own = works.activities.iter().filter(|own| !apart.contains(&own.code.as_str()));
    own.map(|own| (own.code.clone(), own.man_days)).collect()
}

#[test]
fn a_jacket() {
    // A corner column of 500 mm, 3.2 m high, jacketed to 700 mm; 12 bars of 20 mm through the slab above
    // and bonded into the footing, 32 hoops of 10 mm. A quarter of the floor round it is there.
    let old_m2 = 4.0 * 0.5 * 3.2;
    let new_m2 = 4.0 * 0.7 * 3.2;
    let ring_m2 = (1.7 * 1.7 - 0.7 * 0.7) / 4.0;
    let cage_t = 1.1 * (12.0 * 3.2 * 2.47 + 32.0 * 4.0 * 0.6 * 0.617) / 1000.0;
    let rows = [
        row("PREP_PROT", 5.0, 2.0, [60.0, 100.0, 160.0]),
        row("PREP_SCAN", 1.0, 2.0, [5.0, 9.0, 15.0]),
        row("PREP_SERV", 3.0, 2.0, [6.0, 10.0, 16.0]),
        row("STRIP_PLAST", old_m2 + 0.3 * 2.0, 2.0, [15.0, 25.0, 40.0]),
        row("STRIP_CEIL", ring_m2, 2.0, [30.0, 50.0, 80.0]),
        row("SHORE", 6.0, 2.0, [20.0, 30.0, 45.0]),
        row("ROUGH", old_m2, 2.0, [8.0, 14.0, 20.0]),
        // Two connectors to the square metre, whole ones, and the bars at the footing.
        row("DRILL", 13.0 + 12.0, 2.0, [30.0, 60.0, 100.0]),
        row("CORE_SLAB", 12.0, 2.0, [12.0, 20.0, 35.0]),
        row("RB_JACKET", cage_t, 3.0, [0.15, 0.3, 0.5]),
        row("FW_JACKET", new_m2, 3.0, [5.0, 7.0, 11.0]),
        row("POUR_JACKET", (0.7 * 0.7 - 0.5 * 0.5) * 3.2, 4.0, [2.0, 4.0, 8.0]),
        row("REST_PLAST", new_m2, 2.0, [8.0, 14.0, 22.0]),
        row("REST_PAINT", new_m2, 2.0, [60.0, 100.0, 160.0]),
        row("REST_CEIL", ring_m2, 2.0, [25.0, 40.0, 50.0]),
        row("REST_SERV", 3.0, 2.0, [6.0, 10.0, 16.0]),
        row("REST_FLOOR", ring_m2, 2.0, [10.0, 18.0, 30.0]),
    ];
    assert_sum("a jacket", &at_the_member(&works_of(&PLAIN.with(JACKET))), &rows, [9.0, 14.0, 24.0]);
}

#[test]
fn a_pair_of_wings() {
    // Two wings of 0.9 × 0.2 m under a beam at 2.7 m on a façade column, 16 mm at 250 mm in two curtains,
    // embedded 200 mm; a window in the bay on each side goes out and a narrower one comes in.
    let joint_m = 2.7 + 2.0 * 0.9;
    let faces_m2 = 2.0 * (2.0 * 0.9 + 0.2) * 2.7;
    let mesh_kg = 1.1 * 4.0 / 0.25 * (2.0 * 0.9 * 2.7) * 1.58;
    let bars = 2.0 * (2.0 * 11.0 + 2.0 * 2.0 * 4.0);
    let verticals_kg = 16.0 * 2.0 * 0.2 * 1.58;
    let rows = [
        row("PREP_PROT", 2.0 * 3.0 * 6.0, 2.0, [60.0, 100.0, 160.0]),
        row("PREP_SCAN", 1.0, 2.0, [5.0, 9.0, 15.0]),
        row("PREP_SERV", 2.5, 2.0, [6.0, 10.0, 16.0]),
        row("STRIP_PLAST", 2.0 * (0.2 + 0.2) * joint_m, 2.0, [15.0, 25.0, 40.0]),
        row("STRIP_WIN", 2.0, 2.0, [4.0, 6.0, 8.0]),
        row("ROUGH", 2.0 * 0.2 * joint_m, 2.0, [8.0, 14.0, 20.0]),
        row("DRILL", bars, 2.0, [30.0, 60.0, 100.0]),
        row("RB_WALL", (mesh_kg + verticals_kg) / 1000.0, 3.0, [0.25, 0.45, 0.7]),
        row("FW_WALL", faces_m2, 3.0, [6.0, 9.0, 14.0]),
        row("POUR_WALL", 2.0 * 0.9 * 0.2 * 2.7, 4.0, [4.0, 8.0, 16.0]),
        row("GROUT_TOP", 1.8, 2.0, [8.0, 15.0, 25.0]),
        row("REST_PLAST", faces_m2, 2.0, [8.0, 14.0, 22.0]),
        row("REST_PAINT", faces_m2, 2.0, [60.0, 100.0, 160.0]),
        row("REST_WIN", 2.0, 2.0, [3.0, 4.0, 6.0]),
        row("REST_SERV", 2.5, 2.0, [6.0, 10.0, 16.0]),
    ];
    assert_sum("a pair of wings", &at_the_member(&works_of(&PLAIN.with(WINGS))), &rows, [10.0, 15.0, 26.0]);
}

#[test]
fn an_infill_bay() {
    // A bay of 5.5 × 2.7 m inside the building filled 200 mm thick; mesh of 10 mm at 200 mm in two
    // curtains, 110 dowels of 16 mm, 160 mm deep and 640 mm out. A room on each side is emptied.
    let (length, height) = (5.5, 2.7);
    let face_m2 = length * height;
    let round_m = 2.0 * (length + height);
    let steel_t = (1.1 * 4.0 / 0.2 * face_m2 * 0.617 + 110.0 * 0.8 * 1.58) / 1000.0;
    let rows = [
        row("PREP_MOVE", 2.0, 3.0, [2.0, 3.0, 5.0]),
        row("PREP_PROT", 2.0 * 3.0 * 6.0, 2.0, [60.0, 100.0, 160.0]),
        row("PREP_SCAN", 1.0, 2.0, [5.0, 9.0, 15.0]),
        row("PREP_SERV", 4.5, 2.0, [6.0, 10.0, 16.0]),
        row("STRIP_PLAST", (0.2 + 0.2) * round_m, 2.0, [15.0, 25.0, 40.0]),
        row("STRIP_CEIL", 2.0 * length, 2.0, [30.0, 50.0, 80.0]),
        row("ROUGH", 0.2 * round_m, 2.0, [8.0, 14.0, 20.0]),
        row("DRILL", 110.0, 2.0, [30.0, 60.0, 100.0]),
        row("RB_WALL", steel_t, 3.0, [0.25, 0.45, 0.7]),
        row("FW_WALL", 2.0 * face_m2, 3.0, [6.0, 9.0, 14.0]),
        row("POUR_WALL", 0.2 * face_m2, 4.0, [4.0, 8.0, 16.0]),
        row("GROUT_TOP", length, 2.0, [8.0, 15.0, 25.0]),
        row("REST_PLAST", 2.0 * face_m2, 2.0, [8.0, 14.0, 22.0]),
        row("REST_PAINT", 2.0 * face_m2, 2.0, [60.0, 100.0, 160.0]),
        row("REST_CEIL", 2.0 * length, 2.0, [25.0, 40.0, 50.0]),
        row("REST_SERV", 4.5, 2.0, [6.0, 10.0, 16.0]),
        row("HANDOVER", 2.0, 4.0, [1.0, 2.0, 4.0]),
    ];
    let works = works_of(&PLAIN.with(INFILL));
    let all: Vec<(String, Band)> = works.activities.iter().map(|own| (own.code.clone(), own.man_days)).collect();
    assert_sum("an infill bay", &all, &rows, [20.0, 33.0, 56.0]);
}

#[test]
fn a_bay_and_storey_of_an_external_frame() {
    // One bay of 6 m more: a column of 600 × 650 mm over 3.5 m, a beam of 400 × 600 mm over 5.4 m clear, a
    // slab of 1.2 m × 250 mm on 5.5 m of old beam with 16 mm at 95 mm bonded. Footings and site apart.
    let sample = Sample { storeys: 1, height_m: 3.5, ..PLAIN };
    let [one, two] = [1, 2].map(|bays| works_of(&sample.with(&frame(bays, ""))));
    let more: Vec<(String, Band)> = at_the_member(&two)
        .into_iter()
        .map(|(code, own)| {
            let before =
                one.activities.iter().find(|other| other.code == code).map_or(Band::default(), |own| own.man_days);
            (code, Band { low: own.low - before.low, mid: own.mid - before.mid, high: own.high - before.high })
        })
        .collect();
    let forms_m2 = 2.0 * (0.6 + 0.65) * 3.5 + 5.4 * (0.4 + 2.0 * 0.6 - 0.25);
    let steel_kg = 1.1 * (12.0 * 3.5 * 3.85 + 35.0 * 3.0 * 1.05 * 0.888)
        + 1.1 * (8.0 * 6.0 * 2.98 + 54.0 * 2.0 * 0.8 * 0.888)
        + 58.0 * 1.8 * 1.58
        + 1.1 * 16.0 * 6.0 * 0.888;
    let rows = [
        row("EXT_SCAF", 6.0 * 3.5, 3.0, [60.0, 100.0, 150.0]),
        row("EXT_STRIP", 5.5 * (0.25 + 0.3), 3.0, [8.0, 12.0, 20.0]),
        row("PREP_SCAN", 1.0, 2.0, [5.0, 9.0, 15.0]),
        row("ROUGH", 5.5 * 0.25, 2.0, [8.0, 14.0, 20.0]),
        row("DRILL", 58.0, 2.0, [30.0, 60.0, 100.0]),
        row("RB_EXT", steel_kg / 1000.0, 3.0, [0.35, 0.55, 0.9]),
        row("FW_EXT", forms_m2, 3.0, [7.0, 10.0, 16.0]),
        row("FALSE_SLAB", 1.2 * 6.0, 3.0, [10.0, 16.0, 25.0]),
        row("POUR_EXT", 0.6 * 0.65 * 3.5 + 0.4 * 0.6 * 5.4 + 1.2 * 6.0 * 0.25, 5.0, [10.0, 18.0, 30.0]),
        row("EXT_FIN", forms_m2 + 1.2 * 6.0, 3.0, [20.0, 35.0, 55.0]),
    ];
    assert_sum("a bay and storey outside", &more, &rows, [12.0, 20.0, 32.0]);
}
