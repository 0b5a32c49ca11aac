//! Test cuts against published values: Welch's and Student's tests, equivalence,
//! how many cuts it takes, the sign test.

use approx::assert_relative_eq;
use spindlewise_engine::readings::FinishJudged;
use spindlewise_engine::trial::{
    Contrast, Evidence, Group, Outcome, Plan, SideBySide, TooFew, Trial, Turn, Turns, Verdict, cuts_needed, order,
    power, smallest_effect,
};

/// Hours of sleep gained with either of two drugs, ten patients: Student,
/// Biometrika 6 (1908), from memory; results by scipy 1.17.1.
const SLEEP: [[f64; 10]; 2] =
    [[0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0], [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]];

fn group(values: &[f64]) -> Group {
    Group::of(values).expect("enough values")
}

fn welch(one: &[f64], other: &[f64]) -> Contrast {
    Contrast::welch(&[(group(one), 1.0), (group(other), -1.0)], 0.0)
}

fn t(contrast: &Contrast) -> f64 {
    contrast.estimate / contrast.standard_error
}

#[test]
fn the_sleep_of_ten_patients_without_pairs() {
    let contrast = welch(&SLEEP[0], &SLEEP[1]);
    assert_relative_eq!(t(&contrast), -1.860_813_467, max_relative = 1e-8);
    assert_relative_eq!(contrast.freedom, 17.776_473_52, max_relative = 1e-8);
    assert_relative_eq!(contrast.by_chance(), 0.079_394_140_19, max_relative = 1e-7);
    let (low, high) = contrast.interval(0.95);
    assert_relative_eq!(low, -3.365_483_231, max_relative = 1e-7);
    assert_relative_eq!(high, 0.205_483_230_7, max_relative = 1e-6);
    let (low, high) = contrast.interval(0.9);
    assert_relative_eq!(low, -3.053_381_497, max_relative = 1e-7);
    assert_relative_eq!(high, -0.106_618_502_7, max_relative = 1e-6);
}

#[test]
fn the_sleep_of_ten_patients_in_pairs() {
    let differences: Vec<f64> = SLEEP[0].iter().zip(&SLEEP[1]).map(|(one, other)| one - other).collect();
    let contrast = Contrast::welch(&[(group(&differences), 1.0)], 0.0);
    assert_relative_eq!(t(&contrast), -4.062_127_683, max_relative = 1e-8);
    assert_relative_eq!(contrast.freedom, 9.0, max_relative = 1e-12);
    assert_relative_eq!(contrast.by_chance(), 0.002_832_890_197, max_relative = 1e-7);
    let (low, high) = contrast.interval(0.95);
    assert_relative_eq!(low, -2.459_885_763, max_relative = 1e-7);
    assert_relative_eq!(high, -0.700_114_236_7, max_relative = 1e-6);
}

/// Of means, deviations and counts as published (Lakens's vignette of the TOSTER
/// package, data of Moery and Calin-Jageman 2016), by scipy 1.17.1.
#[test]
fn the_range_by_which_equivalence_is_judged() {
    let lot = |mean: f64, deviation: f64, count| Group { count, mean, variance: deviation * deviation };
    let contrast = Contrast::welch(&[(lot(5.25, 0.95, 95), 1.0), (lot(5.22, 0.83, 89), -1.0)], 0.0);
    assert_relative_eq!(contrast.freedom, 181.134_367_2, max_relative = 1e-8);
    let (low, high) = contrast.interval(0.9);
    assert_relative_eq!(low, -0.187_084_311_8, max_relative = 1e-6);
    assert_relative_eq!(high, 0.247_084_311_8, max_relative = 1e-6);
}

fn trial(was: &[f64], now: &[f64]) -> Trial {
    Trial {
        evidence: Evidence::Finish,
        turns: Turns::After,
        judged: FinishJudged::Gauge,
        changed: None,
        matters: 0.1,
        cuts: [was.to_vec(), now.to_vec()],
        control: [Vec::new(), Vec::new()],
        pairs: SideBySide::default(),
    }
}

/// Ra in um of six cuts each (made up), compared by scipy 1.17.1 in logarithms: what
/// a gauge is off by in any number of cuts widens the range by a few percent.
const RA: [[f64; 6]; 2] = [[3.4, 3.1, 3.8, 3.3, 3.6, 3.5], [2.9, 3.0, 2.6, 3.2, 2.8, 2.7]];

#[test]
fn six_cuts_of_either_kind() {
    let logarithms = RA.map(|cuts| cuts.map(f64::ln));
    let contrast = welch(&logarithms[1], &logarithms[0]);
    assert_relative_eq!(contrast.estimate.exp(), 0.830_696_945_7, max_relative = 1e-9);
    let (low, high) = contrast.interval(0.95);
    assert_relative_eq!(low.exp(), 0.756_465_641_9, max_relative = 1e-7);
    assert_relative_eq!(high.exp(), 0.912_212_501_6, max_relative = 1e-7);
    assert_relative_eq!(contrast.by_chance(), 0.001_309_957_618, max_relative = 1e-6);

    let Outcome { ratio, verdict, cuts, scatter, shows, would_settle, .. } =
        trial(&RA[0], &RA[1]).outcome().expect("enough cuts");
    let ratio = ratio.expect("a ratio");
    assert_relative_eq!(ratio.mid, 0.830_696_945_7, max_relative = 1e-9);
    assert!((0.73..0.757).contains(&ratio.low) && (0.912..0.94).contains(&ratio.high), "{ratio:?}");
    assert_eq!((verdict, cuts, would_settle), (Verdict::Better, 6, None));
    // By the table below 1.80 times the scatter, to which 2 % of the gauge are added in
    // each mean of six.
    let scatter = scatter.expect("a scatter");
    let with_gauge = scatter.hypot(6_f64.sqrt() * 0.02);
    assert_relative_eq!(shows.expect("a change").ln_1p(), 1.80 * with_gauge, max_relative = 3e-3);
    // What was finer is rougher the other way round.
    let back = trial(&RA[1], &RA[0]).outcome().expect("enough cuts");
    assert_eq!(back.verdict, Verdict::Worse);
    assert_relative_eq!(back.ratio.expect("a ratio").mid, 1.0 / ratio.mid, max_relative = 1e-12);
    assert_relative_eq!(back.by_chance, trial(&RA[0], &RA[1]).outcome().expect("enough").by_chance);
}

/// In any unit.
#[test]
fn ratios_know_no_unit() {
    let inch = |cuts: [f64; 6]| cuts.map(|cut| cut / 25.4).to_vec();
    let [one, other] =
        [trial(&RA[0], &RA[1]), trial(&inch(RA[0]), &inch(RA[1]))].map(|one| one.outcome().expect("enough"));
    assert_relative_eq!(one.ratio.expect("one").low, other.ratio.expect("one").low, max_relative = 1e-9);
    assert_eq!(one.verdict, other.verdict);
}

/// A specimen has steps of a factor of two: no number of cuts that all came out alike
/// shows a tenth.
#[test]
fn what_is_judged_in_steps_is_no_surer_than_a_step() {
    let alike = |judged| Trial { judged, ..trial(&[3.2; 12], &[3.2; 12]) }.outcome().expect("enough cuts");
    assert_eq!(alike(FinishJudged::Gauge).verdict, Verdict::Same);
    let by_specimen = alike(FinishJudged::Specimen);
    assert_eq!((by_specimen.verdict, by_specimen.would_settle), (Verdict::CannotTell, None));
    let ratio = by_specimen.ratio.expect("a ratio");
    // 1.96 root 2 times a step over root 12.
    let reach = 1.96 * 2_f64.sqrt() * 2_f64.ln() / 12_f64.sqrt();
    assert_relative_eq!(ratio.high, reach.exp(), max_relative = 1e-3);
    assert_relative_eq!(ratio.low, (-reach).exp(), max_relative = 1e-3);
    assert_eq!(Plan::of(&Trial { judged: FinishJudged::Specimen, ..trial(&[], &[]) }).each, None);
}

/// Deeper is better, smoother is better.
#[test]
fn a_deeper_quiet_cut_is_better() {
    let deeper = Trial { evidence: Evidence::Depth, ..trial(&RA[1], &RA[0]) };
    assert_eq!(deeper.outcome().expect("enough cuts").verdict, Verdict::Better);
}

/// What cuts that nothing was changed about did too was not done by the change.
#[test]
fn a_control_cut_takes_out_what_changed_by_itself() {
    let both = Trial { control: [RA[0].to_vec(), RA[1].to_vec()], ..trial(&RA[0], &RA[1]) };
    let Outcome { ratio, control, verdict, .. } = both.outcome().expect("enough cuts");
    assert_relative_eq!(ratio.expect("a ratio").mid, 1.0, max_relative = 1e-12);
    assert_relative_eq!(control.expect("a control").mid, 0.830_696_945_7, max_relative = 1e-9);
    assert_eq!(verdict, Verdict::CannotTell);
    let steady = Trial { control: [RA[0].to_vec(), RA[0].to_vec()], ..trial(&RA[0], &RA[1]) };
    assert_eq!(steady.outcome().expect("enough cuts").verdict, Verdict::Better);
}

/// Pairs of neighbours in a bar that gets harder: the difference is in the pairs.
#[test]
fn pairs_take_out_what_they_share() {
    let was = [2.0, 2.4, 2.9, 3.5, 4.2, 5.0];
    let now = was.map(|cut| 0.85 * cut);
    let apart = trial(&was, &now);
    let turns = Turns::About;
    assert_eq!(apart.outcome().expect("enough cuts").verdict, Verdict::CannotTell);
    assert_eq!(Trial { turns, ..apart.clone() }.outcome().expect("enough cuts").verdict, Verdict::Better);
    assert_eq!(Trial { turns, ..trial(&was, &now[1..]) }.outcome(), Err(TooFew::Unpaired([6, 5])));
    assert_eq!(trial(&was[..2], &now).outcome(), Err(TooFew::Cuts([2, 6])));
}

/// Cohen, Statistical Power Analysis (1988), table 2.4.1 (from memory: 393, 64, 26
/// each), by quadrature and scipy's noncentral t: 25.525 for 0.8, 16.71 for 1, 8.06
/// for 1.5, 5.09 for 2.
#[test]
fn how_many_cuts_each_show_a_difference() {
    let needed = |effect| cuts_needed(effect, 1.0, 0.0, Turns::After);
    assert_eq!([0.8, 1.0, 1.5, 2.0].map(needed), [Some(26), Some(17), Some(9), Some(6)]);
    assert_eq!(needed(0.5), None, "64 are more than anybody takes");
    for (each, chance) in [(26, 0.8075), (25, 0.7915)] {
        assert_relative_eq!(power(0.8, 1.0, 0.0, Turns::After, each), chance, max_relative = 2e-4);
    }
}

/// The same quadrature: the smallest effect that is seen four times in five, of two
/// lots over the scatter of a cut, of pairs over that of their differences.
#[test]
fn the_smallest_difference_that_so_many_cuts_show() {
    for (each, lots, pairs) in
        [(3, 3.07, 3.264), (4, 2.38, 2.128), (5, 2.02, 1.682), (6, 1.80, 1.4345), (8, 1.51, 1.156), (12, 1.20, 0.8887)]
    {
        assert_relative_eq!(smallest_effect(each, 1.0, 0.0, Turns::After), lots, max_relative = 3e-3);
        let of_pairs = smallest_effect(each, 1.0, 0.0, Turns::About) / 2_f64.sqrt();
        assert_relative_eq!(of_pairs, pairs, max_relative = 1e-3);
    }
}

/// Where there is no difference, one is seen as often as was agreed.
#[test]
fn no_difference_is_taken_for_one_as_often_as_agreed() {
    for each in [3, 6, 20] {
        for turns in [Turns::After, Turns::About] {
            assert_relative_eq!(power(0.0, 0.3, 0.0, turns, each), 0.05, max_relative = 1e-3);
        }
    }
}

/// Exact: rows of Pascal's triangle. Six of six 2/64, seven of eight 18/256.
#[test]
fn pairs_by_the_toss_of_a_coin() {
    for (better, same, worse, chance) in
        [(6, 0, 0, 0.03125), (5, 3, 0, 0.0625), (7, 0, 1, 18.0 / 256.0), (0, 0, 6, 0.03125), (4, 0, 4, 1.0)]
    {
        assert_relative_eq!(SideBySide { better, same, worse }.by_chance(), chance, max_relative = 1e-12);
    }
    let of = |better, worse| {
        let pairs = SideBySide { better, same: 2, worse };
        Trial { evidence: Evidence::Pairs, pairs, ..trial(&[], &[]) }.outcome()
    };
    let verdict = |better, worse| of(better, worse).expect("some pairs").verdict;
    assert_eq!(verdict(6, 0), Verdict::Better);
    assert_eq!(verdict(1, 8), Verdict::Worse);
    assert_eq!(verdict(7, 1), Verdict::CannotTell);
    assert_eq!(of(0, 0), Err(TooFew::Pairs));
}

/// What grows evenly with time, as wear and warmth do, comes to the same on either
/// side: each kind is cut equally late.
#[test]
fn the_order_favours_neither() {
    for pairs in [4, 6, 12] {
        let order = order(pairs);
        assert_eq!(order.len(), pairs);
        // First and second of a pair, at the times 2 i and 2 i + 1.
        let late = |which: Turn| -> usize {
            order.iter().enumerate().map(|(pair, &turn)| 2 * pair + usize::from(turn != which)).sum()
        };
        assert_eq!(late(Turn::WasFirst), late(Turn::NowFirst), "{order:?}");
    }
    let firsts: Vec<Turn> = order(12).into_iter().step_by(2).collect();
    assert!(
        firsts.contains(&Turn::WasFirst) && firsts.contains(&Turn::NowFirst),
        "not the same all the way: {firsts:?}"
    );
}
