//! The usual cautions, where they belong.

use crate::app::prelude::*;
use spindlewise_engine::decision::Decision;
use spindlewise_engine::remedies::Caution;

use super::sheet::Sheet;
use crate::app::charts::{Mark, mark};

/// Those that mean "don't take this cut as it is".
fn is_grave(caution: Caution) -> bool {
    matches!(
        caution,
        Caution::PartMaySlip
            | Caution::PartMayLift
            | Caution::IntoTheGrip
            | Caution::CutterMaySnap
            | Caution::UnretainedTaper
            | Caution::DrillChuckSideLoad
    )
}

/// A list of cautions.
pub fn list(cautions: &[Caution]) -> AnyView {
    let rows = cautions
        .iter()
        .map(|caution| view! { <li>{mark(Mark::Caution)} <span>{caution.text()}</span></li> })
        .collect_view();
    view! { <ul class="cautions">{rows}</ul> }.into_any()
}

/// The grave ones, before anything about the cut.
pub fn grave(decision: &Decision) -> Option<AnyView> {
    let grave: Vec<_> = decision.cautions.iter().copied().filter(|&caution| is_grave(caution)).collect();
    (!grave.is_empty()).then(|| {
        view! {
            <section class="grave" aria-labelledby="grave">
                <h2 id="grave">"Before you take this cut"</h2>
                {list(&grave)}
            </section>
        }
        .into_any()
    })
}

/// The others, for the cut as it is.
pub fn section(sheet: &Sheet) -> Option<AnyView> {
    let usual: Vec<_> = sheet.decision.cautions.iter().copied().filter(|&caution| !is_grave(caution)).collect();
    (!usual.is_empty()).then(|| {
        view! {
            <section aria-labelledby="cautions">
                <h2 id="cautions">"Cautions for this cut"</h2>
                {list(&usual)}
            </section>
        }
        .into_any()
    })
}
