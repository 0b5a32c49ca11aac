//! What the machine does as it is.

use crate::app::prelude::*;
use spindlewise_engine::decision::{Figure, Spread};
use spindlewise_engine::quantity::{Dimension, format};

use super::sheet::{Sheet, figure_attributes, point};
use super::sourced::{sourced, spread};
use super::words::chance;
use crate::app::components::folded;

/// The section.
pub fn section(sheet: &Sheet) -> AnyView {
    let now = &sheet.decision.now;
    let units = sheet.units;
    let amount = |figure, name, label: &'static str, value: Spread, dimension| {
        view! {
            <tr {..figure_attributes(name, value)}>
                <th scope="row">{label}</th>
                <td>{spread(figure, value, dimension, units)}</td>
            </tr>
        }
    };
    let probability = |figure, name, label: &'static str, value: f64| {
        view! {
            <tr {..figure_attributes(name, point(value))}>
                <th scope="row">{label}</th>
                <td>{sourced(figure, chance(value))}</td>
            </tr>
        }
    };
    let (fine, rough, length) = (Dimension::FineLength, Dimension::Roughness, Dimension::Length);
    let table = view! {
        <table class="now">
            <thead>
                <tr>
                    <th scope="col">"What"</th>
                    <th scope="col">"Middle, and eight machines in ten"</th>
                </tr>
            </thead>
            <tbody>
                {probability(Figure::Reach, "now.reach", "Reaches your goal", now.reach)}
                {amount(Figure::Wall, "now.wall", "Roughness Ra of the wall", now.wall, rough)}
                {amount(Figure::Floor, "now.floor", "Roughness Ra of the floor", now.floor, rough)}
                {amount(Figure::DepthLimit, "now.depth_limit", "Deepest cut without chatter, at this speed", now.depth_limit, length)}
                {amount(Figure::DepthAnySpeed, "depth_any_speed", "Deepest cut without chatter, safe whatever the speed", sheet.decision.depth_any_speed, length)}
                {amount(Figure::Location, "now.location", "How far the wall ends up off", now.location, fine)}
                {amount(Figure::PlayTravel, "now.play_travel", "Travel across the play in each tooth pass", now.play_travel, fine)}
                {amount(Figure::Stiffness, "now.stiffness", "Stiffness from tip to part, weaker way", now.stiffness, Dimension::Stiffness)}
                {amount(Figure::Torque, "now.torque", "Torque at the cutter", now.torque, Dimension::Torque)}
                <tr {..figure_attributes("now.minutes", point(now.minutes))}>
                    <th scope="row">"Time in the cut, whole job"</th>
                    <td>{sourced(Figure::Minutes, format(now.minutes, Dimension::Minutes, units))}</td>
                </tr>
                {probability(Figure::Chatter, "now.chatter", "It chatters at this depth", now.chatter)}
                {probability(Figure::Slip, "now.slip", "The part slips in its grip", now.slip)}
                {probability(Figure::Lift, "now.lift", "The part lifts or tips", now.lift)}
                {probability(Figure::PullIn, "now.pull_in", "The cut pulls the table along", now.pull_in)}
                {probability(Figure::Snap, "now.snap", "The cutter may snap", now.snap)}
                {probability(Figure::Stall, "now.stall", "The drive stalls", now.stall)}
            </tbody>
        </table>
    };
    folded("now", "As it is now", "every figure".into(), false, table.into_any())
}
