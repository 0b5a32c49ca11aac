//! Silhouettes of the six kinds of light mill, seen from the left side, the
//! operator on the left.

use spindlewise_engine::machine::Archetype;

/// A drawing of the kind of machine.
pub fn machine_picture(kind: Archetype) -> &'static str {
    match kind {
        Archetype::BenchDrill => BENCH_DRILL,
        Archetype::FloorDrill => FLOOR_DRILL,
        Archetype::MiniMill => MINI_MILL,
        Archetype::RoundColumn => ROUND_COLUMN,
        Archetype::SquareColumn => SQUARE_COLUMN,
        Archetype::Knee => KNEE,
    }
}

const BENCH_DRILL: &str = r#"<svg viewBox="0 0 140 140">
<path class="floor" d="M8 132H132"/>
<path class="iron" d="M26 120h90v10H26z"/>
<path class="bright" d="M90 44h12v76H90z"/>
<path class="iron" d="M36 40h74v22H36z"/>
<path class="iron" d="M32 24h80v14H32z"/>
<path class="iron" d="M114 42h12v22h-12z"/>
<path class="bright" d="M48 62h14v14H48z"/>
<path class="iron" d="M50 76h10l-2 9h-6z"/>
<path class="bright" d="M53 85h4v11h-4z"/>
<path class="iron" d="M24 112h62v8H24zM32 104h46v7H32z"/>
<path class="work" d="M42 97h26v7H42z"/>
<path class="thin" d="M42 52 26 62"/>
</svg>"#;

const FLOOR_DRILL: &str = r#"<svg viewBox="0 0 140 140">
<path class="floor" d="M8 136H132"/>
<path class="iron" d="M30 127h80v8H30z"/>
<path class="bright" d="M88 22h10v105H88z"/>
<path class="iron" d="M40 20h68v18H40z"/>
<path class="iron" d="M36 6h74v12H36z"/>
<path class="iron" d="M112 20h12v20h-12z"/>
<path class="bright" d="M52 38h12v11H52z"/>
<path class="iron" d="M54 49h8l-2 7h-4z"/>
<path class="bright" d="M56 56h4v9h-4z"/>
<path class="iron" d="M30 80h72v8H30zM80 88h22v10H80z"/>
<path class="work" d="M40 71h34v9H40z"/>
<path class="thin" d="M46 30 32 40"/>
</svg>"#;

const MINI_MILL: &str = r#"<svg viewBox="0 0 140 140">
<path class="floor" d="M8 132H132"/>
<path class="iron" d="M34 116h82v14H34z"/>
<path class="iron" d="M92 34h16v82H92z"/>
<path class="thin" d="M97 38v74"/>
<path class="iron" d="M40 46h50v34H40z"/>
<path class="iron" d="M48 30h28v16H48z"/>
<path class="bright" d="M52 80h14v7H52z"/>
<path class="bright" d="M57 87h5v11h-5z"/>
<path class="iron" d="M24 108h66v7H24z"/>
<path class="work" d="M44 99h28v9H44z"/>
<path class="thin" d="M24 111H12M12 105v12"/>
</svg>"#;

const ROUND_COLUMN: &str = r#"<svg viewBox="0 0 140 140">
<path class="floor" d="M8 132H132"/>
<path class="iron" d="M30 118h94v12H30z"/>
<path class="bright" d="M86 20h26v98H86z"/>
<path class="thin" d="M93 24v14M93 74v40"/>
<path class="iron" d="M28 36h90v36H28z"/>
<path class="iron" d="M30 20h62q0 0 0 14H30q-4-8 0-14z"/>
<path class="bright" d="M42 72h20v10H42z"/>
<path class="bright" d="M49 82h6v12h-6z"/>
<path class="iron" d="M16 106h72v7H16zM28 113h50v5H28z"/>
<path class="work" d="M36 95h30v11H36z"/>
<path class="thin" d="M34 60 16 72"/>
</svg>"#;

const SQUARE_COLUMN: &str = r#"<svg viewBox="0 0 140 140">
<path class="floor" d="M8 132H132"/>
<path class="iron" d="M30 118h94v12H30z"/>
<path class="iron" d="M88 14h30v104H88z"/>
<path class="thin" d="M94 18v96M100 18v96"/>
<path class="iron" d="M36 40h50v38H36z"/>
<path class="iron" d="M44 16h26v24H44z"/>
<path class="bright" d="M44 78h18v8H44z"/>
<path class="bright" d="M50 86h6v11h-6z"/>
<path class="iron" d="M16 107h74v7H16zM30 114h46v4H30z"/>
<path class="work" d="M38 98h30v9H38z"/>
<path class="thin" d="M16 110H6M6 104v12"/>
</svg>"#;

const KNEE: &str = r#"<svg viewBox="0 0 140 140">
<path class="floor" d="M8 136H132"/>
<path class="iron" d="M40 127h88v8H40z"/>
<path class="iron" d="M84 34h34l6 93H84z"/>
<path class="iron" d="M40 18h86v15H40z"/>
<path class="iron" d="M24 12h22v44H24z"/>
<path class="iron" d="M27 2h16v10H27z"/>
<path class="bright" d="M28 56h14v9H28z"/>
<path class="bright" d="M33 65h4v10h-4z"/>
<path class="iron" d="M8 84h70v7H8zM20 91h50v6H20z"/>
<path class="iron" d="M34 97h50v16l-20 6H44z"/>
<path class="work" d="M22 75h26v9H22z"/>
<path class="bright" d="M50 118h8v9h-8z"/>
</svg>"#;
