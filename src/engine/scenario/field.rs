//! Every number a user can give: what it is called, its unit and the range in
//! which it can be believed. The one home of labels and limits.

use crate::quantity::{Dimension, UnitSystem};

/// What is known of a field apart from its content.
#[derive(Clone, Copy, Debug)]
pub struct FieldSpec {
    /// Stable name in saved documents and error messages.
    pub key: &'static str,
    /// The question in a few words.
    pub label: &'static str,
    /// One line of help, for who reads in millimetres and for who reads in inches.
    hints: [&'static str; 2],
    /// Physical dimension; the unit follows from it and the unit system.
    pub dimension: Dimension,
    /// Smallest and largest value accepted, in the dimension's base unit.
    pub range: (f64, f64),
    /// Whether only whole numbers make sense.
    pub whole: bool,
    /// Whether it takes several numbers, parted by commas or blanks.
    pub list: bool,
    /// Whether 0 is taken too, below the range: the needle stood still.
    pub still: bool,
}

impl FieldSpec {
    /// One line of help, for somebody who reads in `units`.
    pub fn hint(&self, units: UnitSystem) -> &'static str {
        let [metric, inch] = self.hints;
        match units {
            UnitSystem::Metric => metric,
            UnitSystem::Inch => inch,
        }
    }
}

// A hint that names amounts is written twice: round figures of the one system are
// odd ones in the other.
macro_rules! fields {
    ($( $variant:ident = $key:literal, $label:literal, $hint:literal $(or $inch:literal)?, $dimension:ident, $low:literal ..= $high:literal $(, $kind:ident)?; )+) => {
        /// A number the user can give. Every one may be left blank.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Field {
            $(
                #[doc = $label]
                $variant,
            )+
        }

        impl Field {
            /// Every field, in the order of the wizard.
            pub const ALL: &'static [Field] = &[$(Field::$variant),+];

            /// What is known of the field.
            pub fn spec(self) -> FieldSpec {
                match self {
                    $(Field::$variant => FieldSpec {
                        key: $key,
                        label: $label,
                        hints: fields!(@hints $hint $($inch)?),
                        dimension: Dimension::$dimension,
                        range: ($low as f64, $high as f64),
                        whole: fields!(@whole $($kind)?),
                        list: fields!(@list $($kind)?),
                        still: fields!(@still $($kind)?),
                    }),+
                }
            }

            /// The field saved under `key`, if there is one.
            pub fn from_key(key: &str) -> Option<Field> {
                Field::ALL.iter().copied().find(|field| field.spec().key == key)
            }
        }
    };
    (@hints $both:literal) => { [$both, $both] };
    (@hints $metric:literal $inch:literal) => { [$metric, $inch] };
    (@whole whole) => { true };
    (@whole $($other:ident)?) => { false };
    (@list list) => { true };
    (@list $($other:ident)?) => { false };
    (@still still) => { true };
    (@still $($other:ident)?) => { false };
}

fields! {
    FinishTarget = "want.finish", "Finish you want, Ra", "1.6 µm feels smooth; 3.2 µm is an ordinary milled face; 6.3 µm catches a fingernail." or "63 µin feels smooth; 125 µin is an ordinary milled face; 250 µin catches a fingernail.", Roughness, 0.0001 ..= 0.1;
    SizeTolerance = "want.tolerance", "How far off size you can bear", "Half the band on the drawing.", FineLength, 0.001 ..= 2.0;

    QuillExtension = "machine.quill_extension", "How far the quill is out", "From fully drawn in.", Length, 0.0 ..= 200.0;
    Span = "machine.span", "Distance between the spindle bearings", "Centre to centre, from a drawing or by eye.", Length, 20.0 ..= 500.0;
    Overhang = "machine.overhang", "Front bearing to spindle nose", "Centre of the lower bearing to the end of the spindle.", Length, 5.0 ..= 200.0;
    SpindleDiameter = "machine.spindle_diameter", "Spindle diameter", "Where it runs between the bearings.", Length, 6.0 ..= 120.0;
    BearingBore = "machine.bearing_bore", "Bore of the lower bearing", "The shaft size it sits on.", Length, 8.0 ..= 80.0;
    Backlash = "machine.backlash", "Lost motion of the feed screw", "Turn the handle back until the table starts to move.", FineLength, 0.001 ..= 3.0;
    Power = "machine.power", "Motor power", "From the plate.", Power, 50.0 ..= 10000.0;
    SlowestSpeed = "machine.slowest", "Slowest spindle speed", "Lowest belt step or dial.", Rotation, 20.0 ..= 5000.0;
    FastestSpeed = "machine.fastest", "Fastest spindle speed", "Highest belt step or dial.", Rotation, 100.0 ..= 30000.0;
    SpeedSteps = "machine.steps", "Speeds of the belt steps or gears", "All of them, such as 500, 780, 1250, 2100. Blank if a dial sets any speed.", Rotation, 20.0 ..= 30000.0, list;

    IndicatorDivision = "readings.division", "Smallest division of your indicator", "Such as 10 µm, a hundredth of a millimetre." or "Such as half a thou or a whole one.", FineLength, 0.0005 ..= 0.1;
    TipForce = "readings.tip.force", "Pull at the cutter tip", "The full pull less the light one at which you set the dial to zero, by the luggage scale.", Force, 5.0 ..= 1000.0;
    TipX = "readings.tip.x", "Movement at the tip, pulled left to right", "Indicator on the table, touching the cutter.", FineLength, 0.0005 ..= 3.0, still;
    TipY = "readings.tip.y", "Movement at the tip, pulled towards you", "Indicator on the table, touching the cutter.", FineLength, 0.0005 ..= 3.0, still;
    NoseForce = "readings.nose.force", "Pull at the spindle nose", "The full pull less the light one at which you set the dial to zero, by the luggage scale.", Force, 5.0 ..= 1000.0;
    NoseX = "readings.nose.x", "Movement of the nose, pulled left to right", "Indicator on the table, touching the bare spindle.", FineLength, 0.0005 ..= 3.0, still;
    NoseY = "readings.nose.y", "Movement of the nose, pulled towards you", "Indicator on the table, touching the bare spindle.", FineLength, 0.0005 ..= 3.0, still;
    HeadForce = "readings.head.force", "Pull on the head casting", "The full pull less the light one at which you set the dial to zero. Hook on as low as you can, beside the quill.", Force, 5.0 ..= 1000.0;
    HeadX = "readings.head.x", "Movement of the head, pulled left to right", "Indicator on the table, touching the head casting low down.", FineLength, 0.0005 ..= 3.0, still;
    HeadY = "readings.head.y", "Movement of the head, pulled towards you", "Indicator on the table, touching the head casting low down.", FineLength, 0.0005 ..= 3.0, still;
    PartForce = "readings.part.force", "Pull on the part", "The full pull less the light one at which you set the dial to zero, at the height where you cut.", Force, 5.0 ..= 1000.0;
    PartX = "readings.part.x", "Movement of the part, pulled left to right", "Indicator on the table, touching the part.", FineLength, 0.0005 ..= 3.0, still;
    PartY = "readings.part.y", "Movement of the part, pulled towards you", "Indicator on the table, touching the part.", FineLength, 0.0005 ..= 3.0, still;
    RockRadial = "readings.rock.radial", "Sideways play at the spindle nose", "Indicator foot on the quill or the head. Rock it lightly by hand, both ways: the dead movement only.", FineLength, 0.0005 ..= 2.0, still;
    RockAxial = "readings.rock.axial", "Up-and-down play of the spindle", "Indicator foot on the quill or the head. Lift and drop the nose by hand: the dead movement only.", FineLength, 0.0005 ..= 2.0, still;
    Runout = "readings.runout", "Runout at the cutter, full indicator swing", "Turn the spindle by hand with the power off and unplugged; touch the shank next to the flutes.", FineLength, 0.0005 ..= 1.0, still;
    QuillShake = "readings.quill", "Shake of the quill in the head", "Locked as you mill; indicator on the head, touching the quill.", FineLength, 0.0005 ..= 2.0, still;
    TapX = "readings.tap.x", "Ring of the tool when tapped left to right", "Filled in from a recording, or read from any program that shows the pitch of sounds.", Frequency, 5.0 ..= 3000.0;
    TapY = "readings.tap.y", "Ring of the tool when tapped towards you", "Filled in from a recording, or read from any program that shows the pitch of sounds.", Frequency, 5.0 ..= 3000.0;
    DecayX = "readings.decay.x", "Time in which that ring dies to a tenth, left to right", "In the picture of a recording: from where it is so high to where it is a tenth as high.", Milliseconds, 1.0 ..= 20000.0;
    DecayY = "readings.decay.y", "Time in which that ring dies to a tenth, towards you", "In the picture of a recording: from where it is so high to where it is a tenth as high.", Milliseconds, 1.0 ..= 20000.0;
    PastFinish = "readings.past.finish", "Finish a past cut left, Ra", "Of the surface that matters to you, measured along the feed.", Roughness, 0.0001 ..= 0.1;
    PastDepth = "readings.past.depth", "Depth of that past cut, along the spindle", "Blank if it was as deep as the cut you want.", Length, 0.02 ..= 100.0;
    QuietDepth = "readings.quiet.depth", "Deepest cut that stayed quiet", "Along the spindle: no howl, no pattern of chatter marks.", Length, 0.02 ..= 100.0;
    ChatterDepth = "readings.chatter.depth", "Shallowest cut that chattered", "Along the spindle: it howled, or left a pattern of marks.", Length, 0.02 ..= 100.0;

    CutterDiameter = "cutter.diameter", "Cutter diameter", "For a fly cutter: the circle it sweeps.", Length, 1.0 ..= 150.0;
    Flutes = "cutter.flutes", "Number of teeth", "Flutes or inserts.", Count, 1.0 ..= 16.0, whole;
    StickOut = "cutter.stick_out", "How far the cutter sticks out", "Tip to the face of the holder.", Length, 3.0 ..= 250.0;
    FluteLength = "cutter.flute_length", "Length of the flutes", "At most the stick-out.", Length, 1.0 ..= 200.0;
    Helix = "cutter.helix", "Helix angle", "30° is usual; 0 for straight teeth.", Angle, 0.0 ..= 1.05;
    CornerRadius = "cutter.corner_radius", "Corner radius", "0 for a sharp corner.", Length, 0.0 ..= 20.0;
    AxialDepth = "cut.axial_depth", "Depth of cut, along the spindle", "How deep you want to go in one pass.", Length, 0.02 ..= 100.0;
    RadialWidth = "cut.radial_width", "Width of cut, across the feed", "How much of the cutter is in the work.", Length, 0.02 ..= 150.0;
    FeedPerTooth = "cut.feed_per_tooth", "Feed per tooth", "20 to 50 µm (0.02 to 0.05 mm) is usual on a light mill." or "1 to 2 thou is usual on a light mill.", FineLength, 0.001 ..= 1.0;
    SpindleSpeed = "cut.speed", "Spindle speed", "What the belts or the dial are set to.", Rotation, 20.0 ..= 30000.0;
    CutLength = "cut.length", "Length of cut in one part", "All passes together, at the depth above.", Length, 1.0 ..= 100000.0;
    Parts = "cut.parts", "How many parts", "For what a slower cut costs you in minutes.", Count, 1.0 ..= 10000.0, whole;

    GripHeight = "holding.height", "Height of the cut above the grip", "Above the jaws or the clamps.", Length, 0.0 ..= 300.0;
    ClampForce = "holding.clamp_force", "Clamp force, if you know it", "A small vise pulled up by hand gives 3 to 9 kN." or "A small vise pulled up by hand gives 700 to 2000 lbf.", Force, 20.0 ..= 100000.0;

    MoneyBudget = "means.money", "Money you would spend", "In your own currency.", Money, 0.0 ..= 100000.0;
    HoursBudget = "means.hours", "Hours you would spend", "Evenings and weekends together.", Hours, 0.0 ..= 1000.0;
    HourWorth = "means.hour_worth", "What an hour of yours is worth to you", "Hours of work on a remedy, and minutes it adds to the cut, count at this. 0 if it is your pastime.", Money, 0.0 ..= 1000.0;
    TargetWorth = "means.target_worth", "What reaching the goal is worth to you", "The most you would pay if it were certain. Part of the way counts for part of it.", Money, 1.0 ..= 1000000.0;
    SpoilWorth = "means.spoil_worth", "What a spoiled spindle would cost you", "The part, or another machine. A remedy that may spoil something is charged this times the chance.", Money, 0.0 ..= 1000000.0;

    TrialMatters = "trial.matters", "Smallest change that matters to you", "A tenth is hardly seen side by side, a third is plain.", Share, 0.02 ..= 1.0;
    FinishWas = "trial.finish.was", "Ra of each cut as it was", "One number for each cut, in the order in which they were taken.", Roughness, 0.00005 ..= 0.1, list;
    FinishNow = "trial.finish.now", "Ra of each cut as it is now", "One number for each cut, in the order in which they were taken.", Roughness, 0.00005 ..= 0.1, list;
    DepthWas = "trial.depth.was", "Deepest quiet cut as it was", "One number for each time you looked for it.", Length, 0.02 ..= 100.0, list;
    DepthNow = "trial.depth.now", "Deepest quiet cut as it is now", "One number for each time you looked for it.", Length, 0.02 ..= 100.0, list;
    ControlWas = "trial.control.was", "Ra of the control cut, taken along with the first", "One number for each.", Roughness, 0.00005 ..= 0.1, list;
    ControlNow = "trial.control.now", "Ra of the control cut, taken along with the last", "One number for each.", Roughness, 0.00005 ..= 0.1, list;
    PairsBetter = "trial.pairs.better", "Pairs in which the cut as it is now looked better", "Judged without knowing which was which.", Count, 0.0 ..= 500.0, whole;
    PairsSame = "trial.pairs.same", "Pairs in which you saw no difference", "They count for neither.", Count, 0.0 ..= 500.0, whole;
    PairsWorse = "trial.pairs.worse", "Pairs in which the cut as it was looked better", "Judged without knowing which was which.", Count, 0.0 ..= 500.0, whole;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::Unknown;
    use crate::readings::told_by;

    #[test]
    fn keys_are_unique_and_lead_back_to_their_field() {
        for &field in Field::ALL {
            assert_eq!(Field::from_key(field.spec().key), Some(field));
        }
    }

    #[test]
    fn ranges_are_in_order() {
        for &field in Field::ALL {
            let (low, high) = field.spec().range;
            assert!(low < high, "{}", field.spec().key);
        }
    }

    /// Nobody is told about units he did not choose.
    #[test]
    fn hints_keep_to_the_units_they_are_read_in() {
        let words =
            |hint: &str| -> Vec<String> { hint.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase).collect() };
        let names = |hint: &str, units: &[&str]| words(hint).iter().any(|word| units.contains(&word.as_str()));
        for &field in Field::ALL {
            let spec = field.spec();
            let [metric, inch] = [UnitSystem::Metric, UnitSystem::Inch].map(|units| spec.hint(units));
            assert!(!names(metric, &["thou", "thous", "µin", "inch", "inches", "lb", "lbf"]), "{metric}");
            assert!(!names(inch, &["mm", "µm", "millimetre", "millimetres", "n", "kn"]), "{inch}");
        }
    }

    #[test]
    fn every_reading_that_tells_about_an_unknown_has_a_field() {
        for &unknown in Unknown::ALL {
            if let Some(key) = told_by(unknown) {
                assert!(Field::from_key(key).is_some(), "{key}");
            }
        }
    }
}
