//! Pushover of structures of springs against closed forms (DERIVED: each storey or spring on its
//! own law, equilibrium by hand).

use crate::rays::{self, Critical, Way};
use sisterframe_core::linear::Square;
use sisterframe_core::pushover::{End, Envelope, Limits, Network, Path, Piece, Spring, push};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::dice::Dice;

const TOLERANCE: f64 = 1e-6;

/// Envelope through the corners of a backbone, its last piece with the slope of a `tail` (kN/m in
/// all, not plastic).
fn law(corners: &[[f64; 2]], k: f64, tail: f64) -> Envelope {
    let mut pieces: Vec<Piece> = corners
        .windows(2)
        .map(|pair| {
            let change = pair[1][1] - pair[0][1];
            let length = pair[1][0] - pair[0][0] - change / k;
            Piece { length, slope: change / length }
        })
        .collect();
    pieces.push(Piece { length: f64::INFINITY, slope: k * tail / (k - tail) });
    Envelope { yield_force: corners[0][1], pieces }
}

/// A row with `factor` at some unknowns.
fn row(size: usize, entries: &[(usize, f64)]) -> Vec<f64> {
    let mut row = vec![0.0; size];
    for &(place, factor) in entries {
        row[place] += factor;
    }
    row
}

fn storey(size: usize, s: usize) -> Vec<f64> {
    if s == 0 { row(size, &[(0, 1.0)]) } else { row(size, &[(s, 1.0), (s - 1, -1.0)]) }
}

struct Run {
    network: Network,
    path: Path,
    total: f64,
}

impl Run {
    fn new(springs: Vec<Spring>, load: &[f64], geometric: Option<&Square>, limit: f64) -> Self {
        let size = load.len();
        let watched: Vec<Vec<f64>> = (0..size).map(|u| row(size, &[(u, 1.0)])).collect();
        let limits = Limits { watched: vec![limit; watched.len()], least_left: 0.0 };
        let mut network = Network::new(springs, load, geometric, watched).expect("stands");
        let envelopes = network.envelopes();
        let path = push(&mut network, &envelopes, &limits);
        assert!(path.residual <= 1e-9, "residual {}", path.residual);
        Self { network, path, total: load.iter().sum() }
    }

    /// Base shear and displacements at the point of each event.
    fn events(&self) -> Vec<(f64, Vec<f64>)> {
        self.path.events.iter().map(|event| self.at(event.point)).collect()
    }

    fn at(&self, point: usize) -> (f64, Vec<f64>) {
        let point = &self.path.points[point];
        (point.load * self.total, self.network.displacements(point.load, &point.plastic))
    }

    /// Displacements where the path passes a base shear for the first time.
    fn when(&self, base_shear: f64) -> Vec<f64> {
        let points = &self.path.points;
        let load = base_shear / self.total;
        let k = points.windows(2).position(|pair| pair[0].load <= load && load <= pair[1].load).expect("passes");
        let part = (load - points[k].load) / (points[k + 1].load - points[k].load);
        let (one, other) = (self.at(k).1, self.at(k + 1).1);
        one.iter().zip(&other).map(|(a, b)| a + part * (b - a)).collect()
    }
}

fn bilinear_storeys(alpha: f64) -> Vec<Spring> {
    [(90e3, 900.0), (80e3, 820.0), (60e3, 560.0)]
        .iter()
        .enumerate()
        .map(|(s, &(k, force))| Spring::new(&storey(3, s), k, law(&[[force / k, force]], k, alpha * k)))
        .collect()
}

/// m·z with m 240, 240, 190 t, z 3.6, 7.0, 10.4 m.
const PATTERN: [f64; 3] = [864.0, 1680.0, 1976.0];

#[test]
fn three_bilinear_storeys_yield_in_turn() {
    let run = Run::new(bilinear_storeys(0.05), &PATTERN, None, 1.0);
    let events = run.events();
    assert_near("first yield", events[0].0, 900.0, TOLERANCE);
    assert_near("its roof", events[0].1[2], 0.02565707965, TOLERANCE);
    assert_near("second yield", events[1].0, 1013.785558, TOLERANCE);
    assert_near("its roof", events[1].1[2], 0.05292225869, TOLERANCE);
    assert_all_near("at 1250 kN", &run.when(1250.0), &[0.08777777778, 0.1457932645, 0.1549009341], TOLERANCE);
}

#[test]
fn three_trilinear_storeys_crack_and_yield() {
    let corners =
        [[[0.003, 450.0], [0.018, 900.0]], [[0.003, 420.0], [0.017, 840.0]], [[0.003, 300.0], [0.016, 600.0]]];
    let springs = corners
        .iter()
        .enumerate()
        .map(|(s, corners)| {
            let k = corners[0][1] / corners[0][0];
            Spring::new(&storey(3, s), k, law(corners, k, 2000.0))
        })
        .collect();
    let run = Run::new(springs, &PATTERN, None, 1.0);
    let expected =
        [(450.0, 0.007567130215), (519.2560175, 0.0105785558), (686.2348178, 0.02137651822), (900.0, 0.03831504425)];
    for ((shear, u), (expected, roof)) in run.events().iter().zip(expected) {
        assert_near("shear", *shear, expected, TOLERANCE);
        assert_near("roof", u[2], roof, TOLERANCE);
    }
    assert_near("roof at 960 kN", run.when(960.0)[2], 0.07106938053, TOLERANCE);
}

/// Vertical loads take P/h from each storey.
#[test]
fn second_order_effects_lower_the_same_storeys() {
    let mut geometric = Square::zero(3);
    for (s, (p, h)) in [(6600.0, 3.6), (4300.0, 3.4), (1900.0, 3.4)].into_iter().enumerate() {
        let row = storey(3, s);
        for i in 0..3 {
            for j in 0..3 {
                geometric.add(i, j, -p / h * row[i] * row[j]);
            }
        }
    }
    let run = Run::new(bilinear_storeys(0.05), &PATTERN, Some(&geometric), 1.0);
    let (shear, u) = &run.events()[0];
    assert_near("first yield", *shear, 881.6666667, TOLERANCE);
    assert_near("its roof", u[2], 0.02554171903, TOLERANCE);
    assert_near("roof at 950 kN", run.when(950.0)[2], 0.0523712757, TOLERANCE);
}

/// Two existing storeys, an added frame of two, elastic links.
#[test]
fn an_added_frame_behind_elastic_links() {
    // Unknowns: existing floors 0 and 1, added floors 2 and 3.
    let spring = |entries: &[(usize, f64)], k: f64, force: f64, alpha: f64| {
        Spring::new(&row(4, entries), k, law(&[[force / k, force]], k, alpha * k))
    };
    let elastic = |entries: &[(usize, f64)], k: f64| Spring::new(&row(4, entries), k, Envelope::elastic());
    let springs = vec![
        spring(&[(0, 1.0)], 40e3, 350.0, 0.03),
        spring(&[(1, 1.0), (0, -1.0)], 36e3, 260.0, 0.03),
        spring(&[(2, 1.0)], 120e3, 700.0, 0.02),
        spring(&[(3, 1.0), (2, -1.0)], 100e3, 450.0, 0.02),
        elastic(&[(0, 1.0), (2, -1.0)], 80e3),
        elastic(&[(1, 1.0), (3, -1.0)], 80e3),
    ];
    let run = Run::new(springs, &[1.0, 2.0, 0.0, 0.0], None, 0.06);
    let expected = [
        (1035.031447, 0.00875, 0.01564727463, 0),
        (1050.262115, 0.008968428781, 0.01594016153, 2),
        (1052.152397, 0.009497241248, 0.0164815449, 3),
        (1066.006601, 0.01341629996, 0.02063852219, 1),
    ];
    for ((event, (shear, u)), (base, first, second, mode)) in run.path.events.iter().zip(run.events()).zip(expected) {
        assert_eq!(event.mode, mode);
        assert_near("shear", shear, base, TOLERANCE);
        assert_all_near("existing floors", &u[..2], &[first, second], TOLERANCE);
    }
    let last = run.path.points.len() - 1;
    let (shear, u) = run.at(last);
    assert_eq!(run.path.end, End::LimitDrift { watched: Some(1) });
    assert_near("at the limit", shear, 1145.080934, TOLERANCE);
    assert_near("added roof", u[3], 0.05394043583, TOLERANCE);
    let point = &run.path.points[last];
    assert_near("link", run.network.force(4, point.load, &point.plastic), 278.1737517, TOLERANCE);
}

/// Two storeys in series, load at the roof: storey 1 softens, storey 2 unloads; with the steep
/// slope the roof goes back while the plastic slip grows.
#[test]
fn a_softening_storey_below_an_elastic_one() {
    for (slope, roof, drift) in [(5000.0, 0.027, 0.026), (40000.0, 0.013, 0.012)] {
        let corners = [[0.01, 100.0], [0.01 + 80.0 / slope, 20.0]];
        let springs = vec![
            Spring::new(&storey(2, 0), 10e3, law(&corners, 10e3, 0.0)),
            Spring::new(&storey(2, 1), 20e3, Envelope::elastic()),
        ];
        let run = Run::new(springs, &[0.0, 1.0], None, 0.5);
        let events = run.events();
        assert_near("peak", events[0].0, 100.0, 1e-9);
        assert_all_near("at the peak", &events[0].1, &[0.010, 0.015], 1e-9);
        assert_near("residual", events[1].0, 20.0, 1e-9);
        assert_all_near("at the residual", &events[1].1, &[drift, roof], 1e-9);
    }
}

/// One storey: an existing spring beside a link in series with an added frame. The link softens;
/// with the steep slope the storey drift itself goes back, 5 to 4 mm.
#[test]
fn a_link_that_fails() {
    for (slope, back, low) in [(30e3, 0.007, 170.0), (120e3, 0.004, 110.0)] {
        let corners = [[0.0025, 150.0], [0.0025 + 120.0 / slope, 30.0]];
        let springs = vec![
            Spring::new(&[1.0, 0.0], 20e3, law(&[[0.01, 200.0]], 20e3, 1e-3)),
            Spring::new(&[0.0, 1.0], 60e3, Envelope::elastic()),
            Spring::new(&[1.0, -1.0], 60e3, law(&corners, 60e3, 0.0)),
        ];
        let run = Run::new(springs, &[1.0, 0.0], None, 0.05);
        let expected = [(250.0, [0.005, 0.0025]), (low, [back, 0.0005]), (230.0, [0.010, 0.0005])];
        assert_eq!(run.path.events.len(), 3);
        for ((shear, u), (force, at)) in run.events().iter().zip(expected) {
            assert_near("force", *shear, force, 1e-7);
            assert_all_near("displacements", u, &at, 1e-7);
        }
    }
}

/// Two-storey shear frame tied rigidly to a rigid wall on a base spring that yields. One unknown:
/// the wall's rotation. Mechanism by virtual work: 1500·λ = 220·3 + 200·3 + 300.
#[test]
fn a_wall_that_turns_is_no_storey_spring() {
    // A hair of hardening keeps the last mechanism determined.
    let plastic = |r: f64, k: f64, force: f64| Spring::new(&[r], k, law(&[[force / k, force]], k, 1e-8 * k));
    let springs = vec![plastic(3.0, 60e3, 220.0), plastic(3.0, 50e3, 200.0), plastic(1.0, 500e3, 300.0)];
    // 100 kN at 3 m and 200 kN at 6 m.
    let run = Run::new(springs, &[100.0 * 3.0 + 200.0 * 6.0], None, 0.01);
    let order: Vec<usize> = run.path.events.iter().map(|event| event.mode).collect();
    assert_eq!(order, [2, 0, 1], "wall, storey 1, storey 2");
    for (event, (shear, theta)) in
        run.path.events.iter().zip([(178.8, 0.0006), (302.0, 0.00122222), (312.0, 0.00133333)])
    {
        let point = &run.path.points[event.point];
        assert_near("base shear", 300.0 * point.load, shear, 1e-5);
        assert_near("rotation", run.network.displacements(point.load, &point.plastic)[0], theta, 1e-5);
    }
}

/// Two ductile and two captive columns in one storey: 408 kN at 3 mm, 144 at 9, 160 from 10 on.
#[test]
fn captive_columns_leave_the_ductile_ones_alone() {
    let ductile = || Spring::new(&[1.0], 8e3, law(&[[0.01, 80.0]], 8e3, 1e-4));
    let captive = || Spring::new(&[1.0], 60e3, law(&[[0.003, 180.0], [0.009, 0.0]], 60e3, 1e-4));
    let run = Run::new(vec![ductile(), ductile(), captive(), captive()], &[1.0], None, 0.06);
    let force_at = |d: f64| {
        let points: Vec<(f64, f64)> = (0..run.path.points.len()).map(|k| (run.at(k).1[0], run.at(k).0)).collect();
        let k = points.windows(2).position(|pair| pair[0].0 < d && d <= pair[1].0 + 1e-15).expect("reached");
        let part = (d - points[k].0) / (points[k + 1].0 - points[k].0);
        points[k].1 + part * (points[k + 1].1 - points[k].1)
    };
    for (d, force) in [(0.003, 408.0), (0.009, 144.0), (0.010, 160.0), (0.060, 160.0)] {
        assert_near("storey shear", force_at(d), force, 1e-6);
    }
}

/// With strengths out of reach the path is one elastic step.
#[test]
fn nothing_yields() {
    let springs = bilinear_storeys(0.05)
        .into_iter()
        .map(|spring| Spring { envelopes: [Envelope::elastic(), Envelope::elastic()], ..spring })
        .collect();
    let run = Run::new(springs, &PATTERN, None, 0.05);
    assert!(run.path.events.is_empty());
    assert_eq!(run.path.points.len(), 2);
    let (shear, u) = run.at(1);
    let drift = [1.0 / 90e3, 0.80884955752 / 80e3, 0.43716814159 / 60e3];
    assert_near("roof", u[2], shear * drift.iter().sum::<f64>(), 1e-9);
}

/// Ways on from the end of a run: every set of modes at their envelopes is tried
/// as the set that goes on deforming, with the load rising and falling. `None` where a mode was
/// pushed back the other way, or there are too many sets.
fn ways_on(run: &Run) -> Option<Vec<Way>> {
    let envelopes = run.network.envelopes();
    let point = run.path.points.last().expect("one").clone();
    let modes = envelopes.len();
    let mut slip = vec![0.0; modes];
    for &(mode, amount) in &point.plastic {
        slip[mode] = amount;
    }
    let per_load = run.network.per_load();
    let mut critical = Vec::new();
    for mode in 0..modes {
        let force = run.network.force(mode, point.load, &point.plastic);
        for (sense, sign) in [(0, 1.0), (1, -1.0)] {
            let own = (sign * slip[mode]).max(0.0);
            let envelope = &envelopes[mode][sense];
            if sign * slip[mode] < 0.0 && sign * force > 0.5 * envelope.yield_force {
                return None;
            }
            if (envelope.force(own) - sign * force).abs() < 1e-7 * envelope.yield_force {
                let mut start = 0.0;
                let piece = envelope.pieces.iter().find(|piece| {
                    start += piece.length;
                    own < start * (1.0 - 1e-9)
                });
                critical.push(Critical { mode, sign, slope: piece.expect("last has no end").slope });
            }
        }
    }
    rays::ways_on(&critical, |mode| run.network.influence(mode), &per_load)
}

/// Random shear buildings with torsion-free linked frames and softening everywhere: every path
/// ends in one of the states a path may end in, with few events, on its envelopes, and no plastic
/// deformation ever decreases.
#[test]
fn random_softening_buildings_reach_an_end() {
    let mut dice = Dice::new(20_260_301);
    let (mut limit, mut zero, mut sudden, mut most, mut softened, mut enumerated) = (0, 0, 0, 0, 0, 0);
    let runs = 3000;
    for _ in 0..runs {
        let storeys = dice.whole(1, 8);
        let lines = dice.whole(1, 4);
        let linked = dice.happens(0.4);
        let size = storeys * if linked { 2 } else { 1 };
        let mut springs = Vec::new();
        let mut add = |dice: &mut Dice, row: Vec<f64>| {
            let k = dice.within(2e3, 2e5);
            let yields = dice.within(0.002, 0.02);
            let force = k * yields;
            let plateau = yields * dice.within(1.0, 6.0);
            let soft = k * dice.within(0.03, 1.5);
            let residual = dice.within(0.05, 0.4) * force;
            let corners =
                [[yields, force], [plateau, force * 1.001], [plateau + (force * 1.001 - residual) / soft, residual]];
            springs.push(Spring::new(&row, k, Envelope::from_backbone(&corners, k)));
        };
        for s in 0..storeys {
            for _ in 0..lines {
                add(&mut dice, storey(size, s));
            }
            if linked {
                let mut own = row(size, &[(storeys + s, 1.0)]);
                if s > 0 {
                    own[storeys + s - 1] = -1.0;
                }
                add(&mut dice, own);
                add(&mut dice, row(size, &[(s, 1.0), (storeys + s, -1.0)]));
            }
        }
        let load: Vec<f64> = (0..size).map(|u| if u < storeys { (u + 1) as f64 } else { 0.0 }).collect();
        let run = Run::new(springs, &load, None, 0.6);
        let peak = run.path.points.iter().fold(0.0_f64, |peak, point| peak.max(point.load));
        softened += usize::from(run.path.points.last().expect("one").load < 0.8 * peak);
        most = most.max(run.path.events.len());
        assert!(run.path.events.len() < 100 * run.network.envelopes().len());
        match run.path.end {
            End::LimitDrift { .. } => limit += 1,
            End::ZeroLoad => zero += 1,
            End::LeastLeft => panic!("an end that was not asked for"),
            End::SuddenLoss { .. } => sudden += 1,
        }
        // No load the elastic structure could not carry is ever claimed, nor a negative one.
        assert!(run.path.points.iter().all(|point| point.load >= 0.0 && point.load.is_finite()));
        for pair in run.path.points.windows(2) {
            assert!(pair[1].accumulated >= pair[0].accumulated * (1.0 - 1e-10));
        }
        if matches!(run.path.end, End::SuddenLoss { .. })
            && let Some(ways) = ways_on(&run)
        {
            enumerated += 1;
            assert!(ways.is_empty(), "a path goes on where the run ends: {ways:?}");
        }
    }
    println!(
        "{runs} buildings: {limit} to the drift limit, {zero} to zero load, {sudden} sudden; lost 20 %: {softened}; most events {most}; ends tried in every way: {enumerated}"
    );
    assert!(softened * 2 > runs, "too few lose strength to prove anything: {softened}");
    assert!(enumerated > 0);
    assert!(sudden * 4 < runs, "too many sudden losses: {sudden}");
}
