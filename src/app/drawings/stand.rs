//! Parts of the guides' drawings: a light mill from the front and from above,
//! the indicator on its stand, the luggage scale. In a frame of 320 by 250.

/// The column, behind all else; from the front.
pub const COLUMN: &str = r#"<path class="faint" d="M132 4h56v220h-56z"/>"#;

/// Head, quill and table from the front.
pub const FRONT: &str = r#"<path class="iron" d="M116 12h88v78h-88z"/><path class="bright" d="M136 90h48v24h-48z"/><path class="bright" d="M146 114h28v20h-28z"/>
<path class="iron" d="M4 224h312v20H4z"/><text x="262" y="239">table</text><text x="160" y="56" text-anchor="middle">head</text>"#;

/// The bare spindle nose from the front.
pub const NOSE: &str = r#"<path class="bright" d="M146 114h28v20h-28z"/>"#;

/// Holder and cutter from the front.
pub const CUTTER: &str = r#"<path class="iron" d="M149 134h22v12h-22z"/><path class="bright" d="M153 146h14v38h-14zM153 172l14-8M153 182l14-8"/>"#;

/// Column and table from above.
pub const ABOVE: &str = r#"<path class="bright" d="M12 100h296v116H12z"/><path class="iron" d="M120 4h80v42h-80z"/><text x="160" y="31" text-anchor="middle">column</text><text x="262" y="208">table</text><text x="262" y="242">you</text>"#;

/// The part in its vise from above.
pub const PART_ABOVE: &str =
    r#"<path class="iron" d="M106 126h18v48h-18zM196 126h18v48h-18z"/><path class="work" d="M124 130h72v40h-72z"/>"#;

/// A line of text about x.
pub fn label(x: i32, y: i32, text: &str) -> String {
    format!(r#"<text x="{x}" y="{y}" text-anchor="middle">{text}</text>"#)
}

/// The part in its vise from the front, its top at `y`.
pub fn cut_part(y: i32) -> String {
    format!(
        r#"<path class="iron" d="M106 200h18v24h-18zM196 200h18v24h-18z"/><path class="work" d="M124 {y}h72v{}h-72z"/>"#,
        222 - y
    )
}

/// The indicator with its foot on the table and its finger at (x, y).
pub fn indicator(x: i32, y: i32) -> String {
    let (dial, post) = (x - 66, (x - 94).min(44));
    format!(
        r#"<path class="gauge" d="M{post} 210V{y}H{}M{} {y}H{x}"/><path class="iron" d="M{} 208h32v16h-32z"/>{}
{}{}"#,
        dial - 17,
        dial + 17,
        post - 16,
        small_dial(dial, y),
        format_args!(r#"<text x="{}" y="220">foot</text>"#, post + 21),
        label(x - 30, y - 9, "finger"),
    )
}

/// The indicator with its foot on the head and its finger at (x, y).
pub fn foot_on_head(x: i32, y: i32) -> String {
    let dial = x - 66;
    format!(
        r#"<path class="gauge" d="M{dial} 58V{y}H{x}"/><path class="iron" d="M{} 42H116v18H{}z"/>{}{}{}"#,
        dial - 10,
        dial - 10,
        small_dial(dial, y),
        label(dial + 12, 34, "foot"),
        label(x - 30, y - 9, "finger"),
    )
}

fn small_dial(x: i32, y: i32) -> String {
    format!(r#"<circle class="dial" cx="{x}" cy="{y}" r="17"/><path class="gauge" d="M{x} {y}l7-9"/>"#)
}

/// The scale hooked on at (x, y) and pulled to the right.
pub fn pull(x: i32, y: i32) -> String {
    format!(
        r#"<path class="pull" d="M{x} {y}h22M{} {y}h30M{} {}l10 8-10 8"/><path class="dial" d="M{} {}h34v26h-34z"/><circle class="gauge" cx="{}" cy="{y}" r="6"/>{}{}"#,
        x + 56,
        x + 78,
        y - 8,
        x + 22,
        y - 13,
        x + 39,
        label(x + 39, y - 20, "scale"),
        label(x + 76, y + 24, "pull"),
    )
}

/// From above: the finger from behind at `back`, the scale hooked on at `front`
/// and pulled towards the operator.
pub fn pull_towards_you(back: i32, front: i32) -> String {
    let dial = back - 42;
    format!(
        r#"<path class="iron" d="M34 112h36v28H34z"/><path class="gauge" d="M52 126L143 {dial}M160 {}V{back}"/><circle class="dial" cx="160" cy="{dial}" r="17"/><path class="gauge" d="M160 {dial}l7-9"/>
<path class="pull" d="M160 {front}V182M160 214V242M152 233l8 10 8-10"/><path class="dial" d="M147 182h26v32h-26z"/><circle class="gauge" cx="160" cy="198" r="6"/>
<text x="168" y="123">finger</text>{}{}{}"#,
        dial + 17,
        label(52, 158, "foot"),
        label(200, 204, "scale"),
        label(190, 238, "pull"),
    )
}

/// From above: column, table, the head's outline, and what the spindle carries,
/// of radius `r`.
pub fn machine_above(r: i32) -> String {
    format!(
        r#"{ABOVE}{PART_ABOVE}<path class="faint" d="M116 46h88v132h-88z"/><circle class="bright" cx="160" cy="150" r="{r}"/>"#
    )
}

/// The face of an indicator.
pub fn dial(x: i32, y: i32) -> String {
    format!(
        r#"<circle class="dial" cx="{x}" cy="{y}" r="48"/><path class="gauge" d="M{x} {}v-8M{} {y}h8M{} {y}h-8M{x} {}v8"/><text x="{x}" y="{}" text-anchor="middle">0</text>"#,
        y - 40,
        x + 40,
        x - 40,
        y + 40,
        y - 53,
    )
}

/// A needle on it, so many radians from zero, clockwise.
pub fn needle(x: i32, y: i32, angle: f64) -> String {
    let (dx, dy) = (36.0 * angle.sin(), -36.0 * angle.cos());
    format!(r#"<path class="pull" d="M{x} {y}l{dx:.1} {dy:.1}"/>"#)
}
