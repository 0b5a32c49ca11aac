//! Where a figure comes from: what it means, by which formula, from which
//! source, out of which inputs.

use super::decide::DRAFT_DRAWS;
use super::fit::{Fit, Found};
use super::{Case, LoopPart, Spread};
use crate::mechanics::Unknown;
use crate::quantity::{Dimension, Origin};

/// A figure on the answer page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "titles say it")]
pub enum Figure {
    Wall,
    Floor,
    DepthLimit,
    DepthAnySpeed,
    ExactLimit,
    Simulated,
    Location,
    PlayTravel,
    Stiffness,
    Torque,
    Minutes,
    Reach,
    Chatter,
    Slip,
    Lift,
    PullIn,
    Snap,
    Stall,
    Share(LoopPart),
    Ceiling,
    Change,
    Noticeable,
    Money,
    Hours,
    Spoil,
    Worth,
    PerMoney,
    PerHour,
    Read,
    Expected,
    Fitted,
    Misfit,
    Agreement,
    Tail,
    NextReading,
    Settles,
    Everything,
    BestBuy,
    Regret,
    CountedOn,
    Pace,
    Dots,
    BestTogether,
    Tried,
    Spared,
    TestRatio,
    TestChance,
    TestCuts,
    Favour,
    BreakEven,
    FirstOrder,
    TotalOrder,
    Draws,
    EffectiveDraws,
    Unconverged,
}

/// One input of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Its name.
    pub label: &'static str,
    /// Its value with spread, in the base unit of `dimension`.
    pub value: Spread,
    /// Its dimension.
    pub dimension: Dimension,
    /// Measured, typed, typical or computed.
    pub origin: Origin,
    /// Where a typical value comes from, or how a reading changed it.
    pub source: String,
}

/// How a figure came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Derivation {
    /// The figure's name.
    pub title: &'static str,
    /// What it means, in plain words.
    pub meaning: &'static str,
    /// The formula, in plain notation.
    pub formula: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
    /// What went into it.
    pub inputs: Vec<Input>,
}

/// What a figure is made of: title, meaning, formula, source, unknowns.
struct Recipe {
    title: &'static str,
    meaning: &'static str,
    formula: &'static str,
    source: &'static str,
    unknowns: &'static [Unknown],
}

const COMPLIANCE: &[Unknown] = {
    use Unknown as U;
    &[
        U::CutterFactor,
        U::Joint,
        U::Taper,
        U::ShaftFactor,
        U::BearingFactor,
        U::Quill,
        U::Skew,
        U::HeadX,
        U::HeadY,
        U::ColumnX,
        U::ColumnY,
        U::TableX,
        U::TableY,
        U::HoldingX,
        U::HoldingY,
        U::Part,
    ]
};

const CHATTER: &[Unknown] = {
    use Unknown as U;
    &[
        U::SpindleMass,
        U::SpindleDamping,
        U::CutterDamping,
        U::FrequencyX,
        U::FrequencyY,
        U::DampingX,
        U::DampingY,
        U::TableMass,
        U::TableDamping,
        U::PartMass,
        U::PartDamping,
        U::ForceFactor,
        U::RadialRatio,
        U::RubDamping,
        U::CutterFactor,
        U::Joint,
        U::Taper,
        U::ShaftFactor,
        U::BearingFactor,
        U::RadialPlay,
        U::Quill,
        U::Skew,
        U::HeadX,
        U::HeadY,
        U::ColumnX,
        U::ColumnY,
        U::TableX,
        U::TableY,
        U::HoldingX,
        U::HoldingY,
        U::Part,
    ]
};

const FORCE: &[Unknown] = {
    use Unknown as U;
    &[U::ForceFactor, U::RadialRatio, U::AxialRatio, U::EdgeFactor, U::Runout]
};

const SHOP: &str = "common practice, no source; in your own currency";

fn recipe(figure: Figure) -> Recipe {
    use Unknown as U;
    let (title, meaning, formula, source, unknowns): (_, _, _, _, &'static [Unknown]) = match figure {
        Figure::Wall => (
            "Roughness of the wall, Ra",
            "How rough the side the cutter leaves is: what the process leaves anyway, feed marks, unsteady force, play that is crossed, and chatter.",
            "Ra = root of the sum of squares of: process; cusps 0.257 f²/(8R) with f one mark per turn when the cutter runs out; 0.8 s p/(1 + p) with p = √(f²/(R s)), since of marks close together the deepest wins. s is the scatter of the tool when it makes the wall, root of the sum of squares of: unsteadiness · push · ringing / stiffness, which rings longer the nearer the limit, the less the further the chip gives way under it; the same in chatter, with an unevenness that grows as √(1 − limit/depth); scatter share · play",
            "Feed marks: Martellotti, Trans. ASME 63 (1941); bounded chatter: Tlusty and Ismail, CIRP Annals 30 (1981); the constants are fitted to cuts simulated in time: of those that hold still seven in ten come out within a factor of 2.5, of those that chatter more than eight in ten within 4",
            &[
                U::ProcessRoughness,
                U::Unsteadiness,
                U::PlayPrint,
                U::RadialPlay,
                U::QuillPlay,
                U::ChatterUnevenness,
                U::Runout,
                U::DampingX,
                U::DampingY,
            ],
        ),
        Figure::Floor => (
            "Roughness of the floor, Ra",
            "How rough the bottom or face is. The end of the cutter makes it, so the axial direction and end play count.",
            "Ra = root of the sum of squares of: process; corner marks f²/(8r) or dish ridges; 1/4 · axial force swing · give along the spindle · unsteadiness, that of chatter included; end play crossed when the axial force turns",
            "Corner marks: standard turning geometry; unsteady force: as for the wall",
            &[U::ProcessRoughness, U::AxialPlay, U::PreloadForce, U::SpindleWeight, U::AxialRatio, U::QuillAxial],
        ),
        Figure::DepthLimit => (
            "Deepest cut without chatter, at this speed",
            "Cutter, holder, spindle, frame, table and part swing for themselves, each along the feed and across it together; the one that chatters first sets the limit. The speed is taken to be off by up to 5 %, and the least within that is what counts, so narrow gaps between lobes are not counted on.",
            "The smaller of two. Chatter at a frequency of its own: b = k/|λ| · |s|² / (2 Re s) with s = (r² − 1 − 2iζr) · |λ|/λ and ωT = π − 2 arg s picking r; λ is the eigenvalue of h₀ · diag(1, G₂/G₁), h = N/2π ∫ (force along one mode per chip the other makes) dφ. Every second tooth alike: |1 + 2b λ G| = 2b |h_q G| at q/2 of the tooth-passing frequency, q odd. A flank that rubs divides it by 1 − b C ω/(2 k ζ v), v the speed of the edge: the slower and the higher pitched, the deeper, and without limit where that comes to nothing",
            "Altintas and Budak, CIRP Annals 44 (1995); every second tooth: Merdol and Altintas, J. Manuf. Sci. Eng. 126 (2004), its two strongest terms; rubbing: Tyler and Schmitz, J. Manufacturing Processes 15 (2013). Against exact limits, at one speed, half of the results lie within 11 %, nine in ten within a factor of 1.8",
            CHATTER,
        ),
        Figure::DepthAnySpeed => (
            "Deepest cut without chatter, safe whatever the speed",
            "The least of all lobes: below it no speed of this spindle makes this cut chatter.",
            "The smallest over all modes of b = 2 k ζ (1 + ζ) / h for h > 0, 2 k ζ (1 − ζ) / |h| for h < 0 (with both directions together 2 k ζ / (|λ| + |Im λ|)), and of k ζ / (|h_q| + |Im λ|) for every second tooth alike; divided, for a flank that rubs, as at this speed",
            "Altintas and Budak, CIRP Annals 44 (1995); Merdol and Altintas, J. Manuf. Sci. Eng. 126 (2004)",
            CHATTER,
        ),
        Figure::ExactLimit => (
            "Exact limit of the machine in the middle",
            "The depth from which vibrations of one machine grow: the one in the middle of all that fit, in the group of parts that chatters first; the least within 5\u{a0}% of the speed, since no drive keeps to the gap between two lobes. Rubbing counts as it does at that depth and speed; the other groups are left out. So it can lie on either side of the range beside it.",
            "F(z) = det(1 − z P(z)), P being the motion over one tooth with the cutting coefficients times 1 − z; unstable as soon as F has a zero inside the unit circle",
            "Equation: Insperger and Stepan, Int. J. Numer. Meth. Engng 61 (2004); characteristic matrix: Szalai, Stepan and Hogan, SIAM J. Sci. Comput. 28 (2006) (from memory)",
            CHATTER,
        ),
        Figure::Simulated => (
            "From the cut in the computer",
            "One machine, in the middle of all that fit, takes the cut in small steps of time: each edge cuts what the ones before it left, the springs give way, clearances open and close, teeth run out and the force varies a little from tooth to tooth. What is left standing is the surface.",
            "m q″ + c q′ + k q = F(chip, edge); chip = how far the edge reaches beyond the deepest earlier surface; Ra and Rz of the profile less its Gaussian mean line",
            "Chip and loss of contact: Tlusty and Ismail, CIRP Annals 30 (1981); Ra, Rz: ISO 21920-2, filter: ISO 16610-21 (from memory); grain of the process: common practice, no source",
            CHATTER,
        ),
        Figure::Location => (
            "How far off the wall ends up",
            "The cutter is pushed aside while it makes the wall; the wall stays where the cutter was.",
            "e = |Σ (F̅ + Σ Re Fₙ/(1 − n²r² + 2iζnr)) / k| + half the play travel, over all modes and six harmonics n of the force, its phase counted from the making of the wall; r = tooth-passing frequency over natural frequency",
            "Kline, DeVor and Shareef, J. Eng. Ind. 104 (1982) for the principle; harmonics: Schmitz and Mann, Int. J. Mach. Tools Manuf. 46 (2006); of cuts simulated in time eight in ten come out within a factor of 2.5",
            COMPLIANCE,
        ),
        Figure::PlayTravel => (
            "Travel across the play",
            "Play moves only when the force turns. This is how far the tip is thrown across all clearances in each tooth pass.",
            "sum over clearances of g · sin(ψ/2) · lever, with ψ the angle through which the force swings, less what preload or drag holds shut",
            "Geometry of a clearance circle",
            &[U::RadialPlay, U::QuillPlay, U::TablePlay, U::PreloadForce, U::Drag],
        ),
        Figure::Stiffness => (
            "Stiffness between tip and work",
            "How hard one has to push to move the tip by so much, in the weaker direction of the table.",
            "1/k = sum of 1/k_i, felt at the tip; spindle: a²L/3EI + (a³ − (a−n)³)/3EI + (1 + a/L)²/k_front + (a/L)²/k_rear",
            "Springs in series and the overhung shaft: Slocum, Precision Machine Design (1992); bearings: Palmgren; cutter: Kops and Vo, CIRP Annals 39 (1990)",
            COMPLIANCE,
        ),
        Figure::Torque => (
            "Torque at the cutter",
            "The mean turning moment the spindle has to bring; belts and small motors give up at low speed first.",
            "mean tangential force · cutter radius",
            "Altintas, Manufacturing Automation (2012), ch. 2",
            FORCE,
        ),
        Figure::Minutes => (
            "Minutes in the cut",
            "Time the cutter is cutting for the whole job, without handling.",
            "length · parts / (feed per tooth · teeth · rpm)",
            "Definition",
            &[],
        ),
        Figure::Reach => (
            "How likely the goal is",
            "On how many of 100 machines that fit what you told, the finish comes out as wanted, the cut does not chatter, the part holds, and the size is right if size counts.",
            "share of machines like yours that meet all of it",
            "Counted over a low-discrepancy sample (Joe and Kuo 2008)",
            &[],
        ),
        Figure::Chatter => (
            "How likely it chatters",
            "Share of machines like yours whose chatter limit at this speed lies below your depth of cut.",
            "share of machines with limit < depth",
            "As for the chatter-free depth",
            CHATTER,
        ),
        Figure::Slip => (
            "How likely the part slips",
            "The largest force of a tooth, with half as much again for shock, against what the grip holds by friction.",
            "2 μ F_clamp / (1.5 · F) < 1",
            "Hoffman, Jig and Fixture Design (from memory)",
            &[U::ClampForce, U::Friction, U::ForceFactor, U::EdgeFactor],
        ),
        Figure::Lift => (
            "How likely the part lifts or tips",
            "The cut’s moment about the grip, and the pull of the helix, against what holds the part down.",
            "grip · half width / (1.5 · (F h + F_z · half width)) < 1",
            "Hoffman, Jig and Fixture Design (from memory)",
            &[U::ClampForce, U::Friction, U::AxialRatio],
        ),
        Figure::PullIn => (
            "How likely the cut snatches the table",
            "In shallow climb cutting the cutter pulls the work along. If that beats the drag of the slides, the table jumps across the screw’s lost motion.",
            "largest forward force / drag > 1",
            "Force: Altintas, Manufacturing Automation (2012), ch. 2; drag: common practice, no source",
            &[U::Drag, U::Backlash, U::ForceFactor, U::RadialRatio],
        ),
        Figure::Snap => (
            "How likely the cutter snaps",
            "The largest force of a revolution in the plane of the table bends an end mill most where its flutes end, or at the face of the holder. That is held against half of what its material bears in one steady bend: flutes are notches, and the load comes and goes with every tooth. How strong one cutter is, is known to a quarter at best; it is warned of from 25 machines of 100 on.",
            "32 F (l − depth/2) / (π d³) > 0.5 · strength; l = length of the flutes with d = 0.8 D, and the stick-out with d = D; strength 4000 N/mm² for high-speed steel, 3250 for carbide",
            "Bending of a beam: any textbook; four fifths of the diameter: Kops and Vo, CIRP Annals 39 (1990); strength: from memory; half of it: common practice, no source",
            FORCE,
        ),
        Figure::Stall => (
            "How likely the drive stalls",
            "Power at the edge against what the motor brings to the cutter.",
            "mean tangential force · cutting speed > 0.65 · motor power",
            "Definition of power; efficiency: common practice, no source",
            FORCE,
        ),
        Figure::Share(_) => (
            "Share of the movement",
            "Springs in series share the motion like their compliances; play that is crossed counts to the part that has it. No remedy for a part can remove more than its share.",
            "(c_i · force swing + travel_i) / sum over all parts",
            "Springs in series; play as in its own figure",
            COMPLIANCE,
        ),
        Figure::Ceiling => (
            "The ceiling for bearings",
            "The same machines with bearings that have no play and do not give at all. No bearing you can buy removes more of the movement than this.",
            "bearing compliance and play set to zero, all else the same",
            "Springs in series",
            &[U::BearingFactor, U::RadialPlay, U::PreloadForce],
        ),
        Figure::Change => (
            "Change against now",
            "The same machines like yours with and without it, one by one. That way what is not known of a machine counts on both sides, and the change is known better than either figure.",
            "after / before on each machine; eight machines in ten lie between the two ends",
            "Common random numbers: Law, Simulation Modeling and Analysis (from memory)",
            &[],
        ),
        Figure::Noticeable => (
            "How likely you would notice",
            "Share of machines like yours on which the goal comes nearer by a tenth or more.",
            "share with (share of goal after) > 1.1 · (share of goal before)",
            "Threshold chosen by us",
            &[],
        ),
        Figure::Money => (
            "What it costs",
            "Parts, and what has to be bought or hired because you did not tick it; one shop in ten pays less, one more.",
            "parts + what is missing",
            SHOP,
            &[],
        ),
        Figure::Hours => (
            "Hours of your time",
            "Work, and the extra minutes in the cut for the whole job.",
            "work + (minutes after − minutes before) / 60",
            "common practice, no source",
            &[],
        ),
        Figure::Spoil => (
            "Chance of spoiling something",
            "That a part of the machine does not survive the work, or comes out worse.",
            "our estimate for careful home-shop work",
            "common practice, no source",
            &[],
        ),
        Figure::Worth => (
            "Net worth to you",
            "What the step nearer to the goal is worth to you, less money, hours and the risk of spoiling something.",
            "worth of the goal · (share of goal after − before) − money − hours · worth of an hour − risk · cost of a spoiled spindle; share of goal = min(1, wanted Ra/Ra) · min(1, limit/depth) [· min(1, tolerance/error)] · 0.3 if the part moves, the table is snatched or the drive stalls · (depth/wanted depth)^0.2",
            "Expected value: Raiffa, Decision Analysis (1968); the share of the goal is our own measure",
            &[],
        ),
        Figure::PerMoney | Figure::PerHour => (
            "Gain per cost",
            "How many more machines of 100 reach the goal for each 10 of your money, or for each hour. What costs less than that is told whole: nobody can do a quarter of an hour’s work four times over.",
            "(share of machines that reach it after − before) / middle of the cost",
            "Definition",
            &[],
        ),
        Figure::Read => (
            "What you read",
            "The figure as you typed it, in the unit you chose to see. What lies below one division of a dial, 0 included, says that there is hardly any movement, at most about a division of it, and never that there is much. Of past cuts: the roughness as you judged it, the depth that stayed quiet, the depth that chattered.",
            "typed",
            "Your own measurement",
            &[],
        ),
        Figure::Expected => (
            "What was expected before it",
            "What such a reading would show on eight in ten machines of this kind, set up as you said, before any reading was taken.",
            "the reading worked out on machines drawn from the typical ranges; of a past cut: the roughness it leaves on each of them, or the depth at which each begins to chatter",
            "Typical ranges: common practice, no source; low-discrepancy sample (Joe and Kuo 2008)",
            &[],
        ),
        Figure::Fitted => (
            "What the fitted machines say",
            "What the same reading would show on machines like yours once all your readings have been heard.",
            "the reading worked out on machines weighted by how well they fit every reading",
            "Bayes’ rule by importance sampling: any textbook on statistics",
            &[],
        ),
        Figure::Misfit => (
            "How well a reading fits",
            "How far the reading is off what all your other readings and the typical ranges lead to expect. Above two and a half standard deviations it is at odds with something; the one that is the trouble is named if leaving it out mends it.",
            "y = [asinh(s·read/b) − asinh(s·expected/b)]/s in standard errors, expected on a typical machine, s the share by which a reading may be off and b what a dial’s divisions add, 0.41 of one: ln(read/expected)/s far above b, (read − expected)/b far below; P = (1 + A Aᵀ)⁻¹ with the slopes A: (P y)ᵢ / √Pᵢᵢ; the model’s own error is 8 %, of what comes of a cut 30 to 50 %",
            "Leave-one-out prediction of linear regression, Gelman and others, Bayesian Data Analysis, section 7.2 (from memory); JCGM 100:2008 (GUM) for the reading’s error; Rocke and Lorenzato, Technometrics 37 (1995), for its two parts; the model’s error is assumed",
            &[],
        ),
        Figure::Agreement => (
            "How well all readings go together",
            "How often good readings of a machine like this would disagree with each other and with what is typical as much as yours do, by chance alone. Under five of a hundred, something is wrong with one of them, or with what was told about the machine.",
            "1 − χ²ₙ(yᵀ P y), n readings",
            "Chi-square test of a linear model; any textbook",
            &[],
        ),
        Figure::Tail => (
            "Whether a few machines decide alone",
            "Machines that fit the readings better count for more. Where a few count for nearly all, averages over them are not to be trusted: then it says yes here, and the answer is less sure.",
            "shape of a generalised Pareto distribution fitted to the largest weights; above 0.7 it is too heavy",
            "Vehtari and others, Journal of Machine Learning Research 25 (2024); Zhang and Stephens, Technometrics 51 (2009)",
            &[],
        ),
        Figure::NextReading => (
            "What a reading is worth",
            "What you would gain on average, in your money, by taking this reading before you choose: for what it may show, another remedy may be the better buy. The reading’s own error is reckoned in; the minutes it takes are not taken off.",
            "mean of (worth of the best remedy given the reading) − worth of the best remedy now; fitted on one half of the machines, tried on the other",
            "Expected value of sample information: Raiffa and Schlaifer, Applied Statistical Decision Theory (1961); by regression: Strong, Oakley and Brennan, Medical Decision Making 34 (2014)",
            &[],
        ),
        Figure::Settles => (
            "What a reading would settle",
            "How much of what is unknown, about how near the goal is or what bearings could gain, goes along with what the reading would show.",
            "squared correlation with the logarithm of the reading, its own error included",
            "Linear regression; any textbook",
            &[],
        ),
        Figure::Everything => (
            "What knowing everything would be worth",
            "What you would gain on average if you knew your machine in every detail before choosing. No reading can gain more.",
            "mean of the best remedy’s worth on each machine − worth of the remedy that is best on average",
            "Expected value of perfect information: Raiffa and Schlaifer, Applied Statistical Decision Theory (1961)",
            &[],
        ),
        Figure::BestBuy => (
            "How often it is the best buy",
            "On how many of a hundred machines like yours no other remedy you can afford, and not leaving it alone either, would be worth more to you.",
            "share of the machines on which its net worth is the largest",
            "Probability of being best; van Hout and others, Health Economics 3 (1994)",
            &[],
        ),
        Figure::Regret => (
            "How often it costs you more than it brings",
            "On how many of a hundred machines like yours you would be better off having left it alone: what it brings there is worth less than its money, your hours and its risk.",
            "share of the machines on which its net worth is below nothing",
            "Counting",
            &[],
        ),
        Figure::CountedOn => (
            "Finish you can count on",
            "Eight of ten machines like yours come out at least as fine as this.",
            "80 % quantile of the roughness that counts",
            "Counted over a low-discrepancy sample (Joe and Kuo 2008)",
            &[],
        ),
        Figure::Pace => (
            "Depth in one pass",
            "A lighter cut takes the same in more and shallower passes. It may reach the goal, but not as you asked for it: half the depth counts 0.87. The minutes it takes longer are charged besides.",
            "(depth / wanted depth)^0.2",
            "Our own measure",
            &[],
        ),
        Figure::Dots => (
            "One machine in twenty",
            "Each dot is the finish of one of twenty machines that stand for all: the middle of each twentieth, smoothest first. Dots are counted more surely than areas are judged.",
            "quantiles at (i − ½)/20, i = 1 to 20",
            "Quantile dot plots: Kay, Kola, Hullman and Munson, Proc. CHI 2016",
            &[],
        ),
        Figure::BestTogether => (
            "The best buy of all sets",
            "Remedies don’t add up: two that help alone may help little together. So every set that can be done together, within your money and hours, is tried on the same machines, and the one with the largest net worth on average wins. Its members come in the order in which each next one brings most on top of those before.",
            "largest mean of: worth of the goal · (share of goal with the set − without) − money − hours · worth of an hour − risk · cost of a spoiled spindle",
            "Expected value: Raiffa, Decision Analysis (1968); the share of the goal is our own measure",
            &[],
        ),
        Figure::Tried => (
            "Sets tried",
            "All sets of the remedies that can be had here, less those whose members exclude each other, those beyond your money or hours, and those that leave a danger other sets deal with. Those worth having are then weighed on all machines like yours.",
            "counted",
            "Counted",
            &[],
        ),
        Figure::TestRatio => (
            "Now against before",
            "The ratio of the middles (geometric means) of the cuts as it is now and as it was. The range holds the true ratio 19 times out of 20, if nothing but what was changed has changed; a control cut takes out what changed by itself.",
            "ln ratio = mean ln(now) − mean ln(was) − the same of the control; range: ± t · √(Σ s²/n + what judging in steps leaves in each mean, (ln 2/√12)² for specimen and fingernail, 2 % else); turn and turn about: mean and s of ln(now/was) of each pair",
            "Student, Biometrika 6 (1908); Welch, Biometrika 34 (1947); equivalence: Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15 (1987); steps: JCGM 100:2008 (GUM) F.2.2.1",
            &[],
        ),
        Figure::TestChance => (
            "What chance alone would show",
            "How often cuts that scatter like yours, or coins tossed for your pairs, would show at least such a difference if there were none. Under 5 of 100 it is called a real difference.",
            "two-sided tail of Student’s t; of pairs: 2 · Σ C(n, k)/2ⁿ for k up to the fewer side, pairs without a difference left out",
            "Student, Biometrika 6 (1908); sign test: Dixon and Mood, J. American Statistical Association 41 (1946)",
            &[],
        ),
        Figure::TestCuts => (
            "How many cuts it takes",
            "So many cuts of each kind show the smallest change that matters to you in four trials of five, and see one where there is none in one trial of twenty. With the scatter of your own cuts once there are three of each kind, before that with the usual one: 10 % from cut to cut, and what judging the finish adds.",
            "smallest n at which the mean over s of Φ(d − t s) + Φ(−d − t s) reaches 0.8, d = ln(1 + what matters) / √(2 (scatter²/n + step²))",
            "Cohen, Statistical Power Analysis (1988); scatter before any cut: common practice, no source",
            &[],
        ),
        Figure::Spared => (
            "Work spared",
            "A set is given up as soon as even the best luck on the machines still to come could bring it neither onto a staircase nor to the best buy. Nothing that could have won is lost by it.",
            "1 − trials made / (sets · machines)",
            "Branch and bound: Land and Doig, Econometrica 28 (1960), for the principle",
            &[],
        ),
        Figure::Favour => (
            "How often each is the best buy",
            "On how many of a hundred machines like yours it would be the best single buy, if reaching the goal were worth this much to you. The one most often best need not be the one that is best on average: a few machines on which it is far ahead can outweigh many on which it is a little behind.",
            "share of the machines on which worth · gain − cost is the largest",
            "Acceptability curves and their frontier: Fenwick, Claxton and Sculpher, Health Economics 10 (2001)",
            &[],
        ),
        Figure::BreakEven => (
            "From which reading bearings pay",
            "The reading is put in as if you had taken it, everything is reckoned anew, and it is looked for where the bearing job begins to be worth its cost, and where it begins to be worth more than anything else.",
            "worth of the job > 0; worth of the job > worth of the best other remedy",
            "Threshold by halving of the interval; reading’s error taken as 20 %: common practice, no source",
            &[U::RadialPlay, U::BearingFactor, U::PreloadForce],
        ),
        Figure::FirstOrder => (
            "By how much less uncertain it would be",
            "If this became known and nothing else, so much of the variance of the figure would go, on average.",
            "variance between groups of machines alike in it / variance of all, less what chance puts there",
            "First-order index: Sobol’, Mathematics and Computers in Simulation 55 (2001)",
            &[],
        ),
        Figure::TotalOrder => (
            "All that hangs on it, together with the rest",
            "If all else became known, so much of the variance would stay. Where it is much larger than the solid bar, it matters mainly together with something else.",
            "mean of ½ (figure − figure with this alone drawn anew)² / variance",
            "Total index: Homma and Saltelli, Reliability Engineering and System Safety 52 (1996); Jansen, Computer Physics Communications 117 (1999)",
            &[],
        ),
        Figure::Draws => (
            "Machines like yours looked at",
            "Every remedy is tried on the same machines; each of them holds one value for everything that is not known.",
            "fixed",
            "Number chosen by us: more would not change a count of 100 by more than one",
            &[],
        ),
        Figure::EffectiveDraws => (
            "What they are worth",
            "Machines that fit your readings better count more. So many machines that all count alike would be as good.",
            "(sum of weights)² / sum of squared weights",
            "Kish’s effective sample size: any textbook on sampling (from memory)",
            &[],
        ),
        Figure::Unconverged => (
            "Calculations that did not settle",
            "Force, bearing stiffness and engagement depend on one another and are gone round until they agree. This share did not within thirty rounds.",
            "share of machines whose last two rounds differ by more than 0.0001",
            "Counted",
            &[],
        ),
    };
    Recipe { title, meaning, formula, source, unknowns }
}

/// Where `figure` of the answer to `case` comes from.
pub fn derivation(figure: Figure, case: &Case) -> Derivation {
    let recipe = recipe(figure);
    let inputs = if recipe.unknowns.is_empty() { Vec::new() } else { inputs(recipe.unknowns, case) };
    Derivation { title: recipe.title, meaning: recipe.meaning, formula: recipe.formula, source: recipe.source, inputs }
}

/// A spread this much narrower than usual was learned from the readings.
const LEARNED: f64 = 0.85;

fn inputs(unknowns: &[Unknown], case: &Case) -> Vec<Input> {
    let Found { usual, machines, .. } = Fit::with(case, DRAFT_DRAWS).found;
    unknowns
        .iter()
        .map(|&unknown| {
            let value = Spread::of(machines.iter().map(|iron| iron[unknown]).collect());
            let estimate = usual[unknown];
            let learned = (value.high / value.low).ln() < LEARNED * (estimate.high() / estimate.low()).ln();
            let (origin, source) = if learned && !case.readings.is_empty() {
                (Origin::Narrowed, format!("before them: {}", estimate.source()))
            } else {
                (estimate.origin(), estimate.source().to_owned())
            };
            Input { label: unknown.label(), value, dimension: unknown.dimension(), origin, source }
        })
        .collect()
}
