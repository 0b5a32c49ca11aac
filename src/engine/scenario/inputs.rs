//! Which of the numbers a user gives go into which figure of the answer.

use super::Field;
use crate::decision::Figure;

use Field as F;

/// What the force of the cut depends on.
const FORCE: &[Field] =
    &[F::CutterDiameter, F::Flutes, F::Helix, F::CornerRadius, F::AxialDepth, F::RadialWidth, F::FeedPerTooth];

/// What the stiffness of the loop depends on, beside the cutter's diameter.
const LOOP: &[Field] = &[
    F::StickOut,
    F::FluteLength,
    F::Overhang,
    F::Span,
    F::SpindleDiameter,
    F::BearingBore,
    F::QuillExtension,
    F::GripHeight,
];

/// What the minutes in the cut depend on.
const TIME: &[Field] = &[F::CutLength, F::Parts, F::FeedPerTooth, F::Flutes, F::SpindleSpeed];

/// What the goal is.
const GOAL: &[Field] = &[F::FinishTarget, F::AxialDepth, F::SizeTolerance];

/// What it is worth, and what hours and mishaps cost.
const WORTH: &[Field] = &[F::TargetWorth, F::HourWorth, F::SpoilWorth];

/// The numbers that `figure` is worked out from. What is not known of a machine is
/// among [`crate::decision::Derivation::inputs`] instead.
pub fn inputs(figure: Figure) -> impl Iterator<Item = Field> {
    let groups: &[&[Field]] = match figure {
        Figure::Wall
        | Figure::Floor
        | Figure::Location
        | Figure::Simulated
        | Figure::DepthLimit
        | Figure::DepthAnySpeed
        | Figure::ExactLimit
        | Figure::Chatter
        | Figure::Share(_)
        | Figure::PlayTravel => &[FORCE, &[F::SpindleSpeed], LOOP],
        Figure::Stiffness | Figure::Ceiling => &[&[F::CutterDiameter], LOOP],
        Figure::Torque => &[FORCE],
        Figure::Snap => &[&[F::StickOut, F::FluteLength], FORCE],
        Figure::Stall => &[&[F::Power, F::SpindleSpeed], FORCE],
        Figure::PullIn => &[&[F::Backlash], FORCE],
        Figure::Slip | Figure::Lift => &[&[F::ClampForce, F::GripHeight], FORCE],
        Figure::Minutes | Figure::Hours => &[TIME],
        Figure::Reach
        | Figure::Noticeable
        | Figure::PerMoney
        | Figure::PerHour
        | Figure::CountedOn
        | Figure::Dots
        | Figure::Pace => &[GOAL],
        Figure::Worth
        | Figure::BestBuy
        | Figure::Regret
        | Figure::NextReading
        | Figure::Everything
        | Figure::BestTogether
        | Figure::Favour
        | Figure::BreakEven => &[WORTH, GOAL],
        Figure::Change
        | Figure::Money
        | Figure::Spoil
        | Figure::Read
        | Figure::Expected
        | Figure::Fitted
        | Figure::Misfit
        | Figure::Agreement
        | Figure::Tail
        | Figure::Settles
        | Figure::Tried
        | Figure::Spared
        | Figure::TestRatio
        | Figure::TestChance
        | Figure::TestCuts
        | Figure::FirstOrder
        | Figure::TotalOrder
        | Figure::Draws
        | Figure::EffectiveDraws
        | Figure::Unconverged => &[],
    };
    groups.iter().copied().flatten().copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;

    #[test]
    fn each_number_is_named_once_and_has_a_value_or_may_be_left_open() {
        let resolved = Scenario::new("blank").resolve();
        let open = [F::ClampForce, F::Backlash];
        for figure in
            [Figure::Wall, Figure::Slip, Figure::PullIn, Figure::Snap, Figure::Stall, Figure::Stiffness, Figure::Worth]
        {
            let fields: Vec<Field> = inputs(figure).collect();
            for (at, field) in fields.iter().enumerate() {
                assert!(!fields[..at].contains(field), "{figure:?}: {field:?}");
                assert!(resolved.in_use(*field).is_some() || open.contains(field), "{figure:?}: {field:?}");
            }
        }
    }

    /// length · parts / (feed per tooth · teeth · rpm), of the numbers listed.
    #[test]
    fn the_minutes_follow_from_the_numbers_listed() {
        let mut scenario = Scenario::new("minutes");
        scenario.set_entries([(F::CutLength, "200 mm"), (F::FeedPerTooth, "40 um"), (F::SpindleSpeed, "620")]);
        let resolved = scenario.resolve();
        let values: Vec<f64> = inputs(Figure::Minutes).filter_map(|field| resolved.in_use(field)).collect();
        let [length, parts, feed, teeth, speed] = values[..] else { panic!("{values:?}") };
        let setup = &resolved.case.setup;
        let minutes = length * parts / (feed * teeth * speed);
        assert!((minutes - setup.cut.minutes(setup.cutter.flutes)).abs() < 1e-9 * minutes, "{minutes}");
    }
}
