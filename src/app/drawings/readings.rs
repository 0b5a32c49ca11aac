//! Where to pull and where the indicator goes: the machine from the front, one
//! frame for all, with the hook, the indicator and what moves added to it.

use spindlewise_engine::readings::ReadingGroup;

/// The drawing of a set-up.
pub fn reading_picture(group: ReadingGroup) -> String {
    // Height of the hook and of the indicator's finger.
    let shown = match group {
        ReadingGroup::Tip => [cutter(), &pull(106), &indicator(106)].concat(),
        ReadingGroup::Nose => pull_from(112, 80) + &indicator_at(90, 80),
        ReadingGroup::Head => [cutter(), &pull_from(136, 50), &indicator_at(64, 50)].concat(),
        ReadingGroup::Part => [cutter(), &pull_from(124, 118), &indicator_at(78, 118)].concat(),
        ReadingGroup::Play => ROCK.to_owned(),
        ReadingGroup::Runout => [cutter(), TURN, &indicator(98)].concat(),
        ReadingGroup::Quill => [cutter(), QUILL].concat(),
        ReadingGroup::Tap => [cutter(), TAP].concat(),
        ReadingGroup::PastCuts => [cutter(), MARKS].concat(),
    };
    ["<svg viewBox=\"0 0 200 150\">", FRAME, &shown, "</svg>"].concat()
}

/// Column behind, head, quill, spindle nose, table, vise and part.
const FRAME: &str = r#"<path class="floor" d="M6 146H194"/>
<path class="faint" d="M84 4h32v130H84z"/>
<path class="iron" d="M66 10h68v46H66z"/>
<path class="bright" d="M84 56h32v16H84z"/>
<path class="bright" d="M90 72h20v14H90z"/>
<path class="iron" d="M14 134h172v10H14z"/>
<path class="iron" d="M68 122h10v12H68zM122 122h10v12h-10z"/>
<path class="work" d="M78 114h44v20H78z"/>"#;

fn cutter() -> &'static str {
    r#"<path class="iron" d="M93 86h14v8H93z"/><path class="bright" d="M96 94h8v19h-8zM96 106l8-5M96 112l8-5"/>"#
}

/// The scale's hook at the spindle's line.
fn pull(y: i32) -> String {
    pull_from(106, y)
}

/// Arrows for a pull along X (to the right) and along Y (out of the paper).
fn pull_from(x: i32, y: i32) -> String {
    let (line, tip) = (x + 2, x + 46);
    format!(
        r#"<path class="pull" d="M{line} {y}H{tip}M{} {}L{tip} {y} {} {}"/>
<text x="{}" y="{}">X</text>
<circle class="pull" cx="{}" cy="{}" r="7"/><circle class="dot" cx="{}" cy="{}" r="2.5"/>
<text x="{}" y="{}">Y</text>"#,
        tip - 8,
        y - 6,
        tip - 8,
        y + 6,
        tip + 4,
        y + 5,
        x + 24,
        y - 16,
        x + 24,
        y - 16,
        x + 35,
        y - 11,
    )
}

/// An indicator on the table with its finger on the spindle's line.
fn indicator(y: i32) -> String {
    indicator_at(94, y)
}

/// An indicator with its foot on the table and its finger at (x, y).
fn indicator_at(x: i32, y: i32) -> String {
    let (dial, post) = (x - 26, x - 52);
    let post = post.max(22);
    format!(
        r#"<path class="gauge" d="M{post} 134V{y}M{} 134h20M{post} {y}H{}"/><path class="gauge" d="M{} {y}H{x}"/>
<circle class="dial" cx="{dial}" cy="{y}" r="11"/><path class="gauge" d="M{dial} {y}l5-6"/>"#,
        post - 10,
        dial - 11,
        dial + 11,
    )
}

const ROCK: &str = r#"<path class="gauge" d="M52 20v60M52 24h14M63 80H90"/><circle class="dial" cx="52" cy="80" r="11"/><path class="gauge" d="M52 80l5-6"/>
<path class="pull" d="M116 80h34M124 74l-8 6 8 6M142 74l8 6-8 6"/>
<path class="pull" d="M162 60v34M156 68l6-8 6 8M156 86l6 8 6-8"/>"#;

const TURN: &str = r#"<path class="pull" d="M140 62a13 13 0 1 1-12 8M119 74l9-5 4 10"/>"#;

const QUILL: &str = r#"<path class="gauge" d="M52 20v44M52 24h14M52 64h-2"/><path class="gauge" d="M63 64H84"/>
<circle class="dial" cx="52" cy="64" r="11"/><path class="gauge" d="M52 64l5-6"/>
<path class="pull" d="M120 64h32M128 58l-8 6 8 6M144 58l8 6-8 6"/>"#;

const TAP: &str = r#"<path class="pull" d="M110 106h22M118 100l-8 6 8 6"/><path class="iron" d="M134 97h14v18h-14z"/><path class="gauge" d="M148 106h34"/>
<path class="dial" d="M32 70h24v44H32z"/><path class="gauge" d="M37 92l4-8 4 16 4-12 3 4"/>
<path class="thin" d="M64 96a16 16 0 0 1 0 20M72 90a26 26 0 0 1 0 32"/>"#;

/// The surface the cut left, under a lens.
const MARKS: &str = r#"<path class="pull" d="M122 118h30M134 112l-12 6 12 6"/><circle class="dial" cx="168" cy="104" r="22"/><path class="thin" d="M150 108q4-6 8 0t8 0 8 0 8 0 5-2M160 88v6M168 86v8M176 88v6"/><path class="gauge" d="M183 120l10 12"/>"#;
