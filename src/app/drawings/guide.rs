//! How readings are taken, drawn large: one or more panels for each group, all
//! in one frame of 320 by 250.

use spindlewise_engine::readings::ReadingGroup;

use super::stand::{
    ABOVE, COLUMN, CUTTER, FRONT, NOSE, PART_ABOVE, cut_part, dial, foot_on_head, indicator, label, machine_above,
    needle, pull, pull_towards_you,
};

/// One drawing of a guide.
pub struct Panel {
    /// The line under it.
    pub caption: &'static str,
    /// What it shows, in words.
    pub words: &'static str,
    /// The drawing.
    pub svg: String,
}

fn panel(caption: &'static str, words: &'static str, shapes: &[&str]) -> Panel {
    Panel { caption, words, svg: ["<svg viewBox=\"0 0 320 250\">", &shapes.concat(), "</svg>"].concat() }
}

/// The drawings of a guide.
pub fn guide_panels(group: ReadingGroup) -> Vec<Panel> {
    match group {
        ReadingGroup::Tip => vec![
            panel(
                "From the front: pulled left to right",
                "From the front. The indicator stands with its foot on the table; its finger touches the left side of the cutter, low down. On the right, at the same height, the luggage scale is hooked round the cutter and pulled to the right, level.",
                &[COLUMN, FRONT, CUTTER, &cut_part(190), &indicator(153, 172), &pull(167, 172)],
            ),
            panel(
                "From above: pulled towards you",
                "From above. The foot stands on the table; the finger touches the cutter from behind, from the column’s side. The scale is pulled straight towards you.",
                &[&machine_above(11), &pull_towards_you(139, 161)],
            ),
            steady(),
        ],
        ReadingGroup::Nose => vec![
            panel(
                "From the front: pulled left to right",
                "From the front. Holder and cutter are out. The foot stands on the table; the finger touches the left side of the bare spindle nose. The scale is hooked round the nose and pulled to the right, level.",
                &[COLUMN, FRONT, NOSE, &cut_part(190), &indicator(146, 125), &pull(174, 125)],
            ),
            panel(
                "From above: pulled towards you",
                "From above. The finger touches the nose from behind, from the column’s side. The scale is pulled straight towards you.",
                &[&machine_above(16), &pull_towards_you(134, 166)],
            ),
            steady(),
        ],
        ReadingGroup::Head => vec![
            panel(
                "From the front: pulled left to right",
                "From the front. The foot stands on the table; the finger touches the left side of the head casting, low down. A strap round the casting at the same height is pulled to the right with the scale.",
                &[COLUMN, FRONT, CUTTER, &cut_part(190), &indicator(116, 78), &pull(204, 78)],
            ),
            panel(
                "From above: pulled towards you",
                "From above. The scale is pulled straight towards you from the front of the head. The finger touches the front of the head beside the strap; the foot stands on the table.",
                &[ABOVE, HEAD_ABOVE, &head_towards_you()],
            ),
            steady(),
        ],
        ReadingGroup::Part => vec![
            panel(
                "From the front: pulled left to right",
                "From the front. The spindle is raised. The foot stands on the table, not on the vise; the finger touches the left side of the part at the height of the cut. The scale is hooked round the part at that height and pulled to the right.",
                &[COLUMN, FRONT, &cut_part(178), &indicator(124, 186), &pull(196, 186)],
            ),
            panel(
                "From above: pulled towards you",
                "From above. The finger touches the part from behind, from the column’s side. The scale is pulled straight towards you.",
                &[ABOVE, PART_ABOVE, &pull_towards_you(130, 170)],
            ),
            steady(),
        ],
        ReadingGroup::Play => vec![
            panel(
                "Sideways",
                "From the front. The foot is clamped to the quill or the head; the finger touches the left side of the bare spindle nose. Two fingers push the nose to and fro.",
                &[
                    COLUMN,
                    FRONT,
                    NOSE,
                    &foot_on_head(146, 124),
                    TO_AND_FRO_NOSE,
                    &label(232, 152, "by hand,"),
                    &label(232, 169, "lightly"),
                ],
            ),
            panel(
                "Up and down",
                "From the front. The foot is clamped to the quill or the head; the finger touches the end of the spindle nose from below. The spindle is lifted and let down by hand.",
                &[
                    COLUMN,
                    FRONT,
                    NOSE,
                    UNDER_NOSE,
                    UP_AND_DOWN,
                    &label(232, 160, "by hand,"),
                    &label(232, 177, "lightly"),
                ],
            ),
            between("The dead movement between two stops is the play", "push", "pull back"),
        ],
        ReadingGroup::Runout => vec![
            panel(
                "Turned by hand, once round",
                "From the front. The foot stands on the table; the finger touches the smooth shank just above the flutes. The spindle is turned slowly by hand, once round.",
                &[COLUMN, FRONT, CUTTER, &cut_part(200), &indicator(153, 152), TURN, &label(240, 132, "by hand")],
            ),
            between("The whole swing is the reading", "lowest", "highest"),
        ],
        ReadingGroup::Quill => vec![
            panel(
                "Rocked in the head",
                "From the front. The foot is clamped to the head; the finger touches the left side of the quill, low down. The quill is locked and rocked to and fro by hand.",
                &[
                    COLUMN,
                    FRONT,
                    CUTTER,
                    &foot_on_head(136, 106),
                    TO_AND_FRO_QUILL,
                    &label(238, 134, "by hand,"),
                    &label(238, 151, "lightly"),
                ],
            ),
            between("The dead movement between two stops is the shake", "push", "pull back"),
        ],
        ReadingGroup::Tap => vec![
            panel(
                "From the front: tapped along the table",
                "From the front. A small soft hammer taps the standing cutter near its tip, along the table. The microphone is held a hand’s breadth away on the other side and touches nothing.",
                &[
                    COLUMN,
                    FRONT,
                    CUTTER,
                    &cut_part(190),
                    TAP,
                    &label(72, 102, "microphone"),
                    &label(252, 142, "soft hammer"),
                ],
            ),
            panel(
                "From above: two directions, two readings",
                "From above. One reading is tapped along the table, left and right; the other one across it, to and from you.",
                &[ABOVE, TAPS_ABOVE, &label(250, 134, "along the table"), &label(160, 211, "across it")],
            ),
            panel(
                "A good ring",
                "Two bursts of ringing one after the other: each starts at once, dies away evenly, and is over before the next. Both have the same pitch.",
                &[RINGS, &label(84, 214, "one tap"), &label(240, 214, "the next, alike")],
            ),
        ],
        ReadingGroup::PastCuts => vec![
            panel(
                "Steps cut in scrap",
                "A block seen from the side, cut in four steps, each deeper than the one before. The surfaces of the first two are smooth: quiet. The third shows waves: it chattered, and there one stops. The fourth is left uncut.",
                &[
                    STEPS,
                    &label(70, 66, "quiet"),
                    &label(130, 86, "quiet"),
                    &label(198, 112, "chatters"),
                    &label(100, 218, "deeper each time"),
                ],
            ),
            panel(
                "Finish against a specimen",
                "The part, lit from the side, beside a specimen with three patches from fine to coarse. The part looks and feels like the middle one.",
                &[
                    SPECIMENS,
                    &label(90, 40, "your part"),
                    &label(236, 40, "specimen"),
                    &label(120, 224, "light from the side"),
                ],
            ),
        ],
    }
}

/// What the dial shows in a good pull.
fn steady() -> Panel {
    panel(
        "A good reading: back at zero, and the same again",
        "Three dials in a row. At the light pull the needle stands at zero. At the full pull it stands further round. Back at the light pull it stands at zero again.",
        &[
            &dial(84, 68),
            &needle(84, 68, 0.0),
            &label(72, 136, "1 light: zero"),
            &dial(236, 68),
            &needle(236, 68, 1.9),
            &label(248, 136, "2 full: read"),
            &dial(160, 178),
            &needle(160, 178, 0.06),
            &label(160, 245, "3 light: zero again"),
        ],
    )
}

/// What the dial shows where the reading is the way between two ends.
fn between(caption: &'static str, one: &'static str, other: &'static str) -> Panel {
    panel(
        caption,
        "A dial with the needle at its two ends; the arc from the one to the other is the reading.",
        &[
            &dial(160, 118),
            &needle(160, 118, -0.9),
            &needle(160, 118, 0.9),
            r#"<path class="pull" d="M109 78A64 64 0 0 1 211 78M205 66l6 12-14 1M115 66l-6 12 14 1"/>"#,
            &label(76, 66, one),
            &label(252, 66, other),
            &label(160, 206, "read both, subtract"),
        ],
    )
}

const HEAD_ABOVE: &str = r#"<path class="iron" d="M116 46h88v112h-88z"/><path class="thin" d="M116 146h88"/><text x="160" y="106" text-anchor="middle">head</text>"#;

fn head_towards_you() -> String {
    [
        r#"<path class="pull" d="M160 158V178M160 212V240M152 231l8 10 8-10"/><path class="dial" d="M147 178h26v34h-26z"/><circle class="gauge" cx="160" cy="195" r="6"/>
<path class="iron" d="M34 186h36v28H34z"/><path class="gauge" d="M52 200H115M130 186V161"/><circle class="dial" cx="130" cy="202" r="13"/><path class="gauge" d="M130 202l5-7"/>"#,
        &label(190, 238, "pull"),
        &label(52, 180, "foot"),
        &label(98, 176, "finger"),
        &label(200, 204, "scale"),
    ]
    .concat()
}

const TO_AND_FRO_NOSE: &str = r#"<path class="pull" d="M180 124h84M190 116l-10 8 10 8M254 116l10 8-10 8"/>"#;

const TO_AND_FRO_QUILL: &str = r#"<path class="pull" d="M190 104h84M200 96l-10 8 10 8M264 96l10 8-10 8"/>"#;

const UNDER_NOSE: &str = r#"<path class="gauge" d="M112 90V176H144M160 158V138"/><path class="iron" d="M102 78h20v18h-20z"/><circle class="dial" cx="160" cy="176" r="17"/><path class="gauge" d="M160 176l7-9"/><text x="96" y="70" text-anchor="end">foot</text><text x="154" y="153" text-anchor="end">finger</text>"#;

const UP_AND_DOWN: &str = r#"<path class="pull" d="M204 100v48M196 110l8-10 8 10M196 138l8 10 8-10"/>"#;

const TURN: &str = r#"<path class="pull" d="M120 122a40 14 0 0 0 80 0M192 131l8-10 8 10"/>"#;

const TAP: &str = r#"<path class="pull" d="M176 174h32M186 166l-10 8 10 8"/><path class="iron" d="M212 160h18v28h-18z"/><path class="gauge" d="M230 174h70"/>
<path class="dial" d="M52 112h40v76H52z"/><path class="gauge" d="M60 150l6-10 6 22 6-18 5 8"/><path class="thin" d="M102 134a24 24 0 0 1 0 32M112 124a40 40 0 0 1 0 52"/>"#;

const TAPS_ABOVE: &str = r#"<path class="faint" d="M116 46h88v132h-88z"/><circle class="bright" cx="160" cy="150" r="11"/><path class="pull" d="M178 150h46M190 142l-12 8 12 8M160 168v26M152 180l8-12 8 12"/>"#;

/// Two rings dying away: a wave in its envelope, twice.
const RINGS: &str = r#"<path class="floor" d="M12 120H308"/><path class="gauge" d="M20 120h8l4-76 8 138 8-120 8 104 8-88 8 72 8-58 8 46 8-34 8 26 8-16 8 8 6-2h40l4-76 8 138 8-120 8 104 8-88 8 72 8-58 8 46 8-34 8 26 8-16 8 8 6-2h16"/>"#;

const STEPS: &str = r#"<path class="work" d="M34 84h64v20h60v22q4-6 8 0t8 0 8 0 8 0 8 0 8 0 8 0 8 0 8 0 8 0V40h66v150H34z"/>
<path class="pull" d="M40 234H186M176 226l10 8-10 8"/>"#;

const SPECIMENS: &str = r#"<path class="iron" d="M30 56h120v120H30z"/><path class="thin" d="M42 56v120M54 56v120M66 56v120M78 56v120M90 56v120M102 56v120M114 56v120M126 56v120M138 56v120"/>
<path class="bright" d="M186 56h100v40H186zM186 106h100v40H186zM186 156h100v40H186z"/><path class="thin" d="M192 56v40M198 56v40M204 56v40M210 56v40M216 56v40M222 56v40M228 56v40M234 56v40M240 56v40M246 56v40M252 56v40M258 56v40M264 56v40M270 56v40M276 56v40M282 56v40M198 106v40M210 106v40M222 106v40M234 106v40M246 106v40M258 106v40M270 106v40M206 156v40M226 156v40M246 156v40M266 156v40"/>
<path class="pull" d="M182 126h-24M168 118l-10 8 10 8"/><path class="gauge" d="M4 214 26 192M14 222l22-22M24 230l22-22"/>"#;
