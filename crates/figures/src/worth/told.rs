//! What a rotation is worth, piece by piece, for surfaces that lay it out themselves: the same
//! words and digits as page and terminal.

use super::tables::{answer_word, short_net};
use super::terminal::table_rows;
use super::words::{answer, limits};
use super::{Rival, WorthScene, item_named, money, signed_money};
use crate::error::DrawError;
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use evenfall_core::verdict::{Answer, Swing};
use evenfall_core::worth::{Economics, Worth};

/// What the alternatives are worth, in words and texts.
#[derive(Clone, Debug, PartialEq)]
pub struct WorthTold {
    /// The answer in paragraphs, the most important first.
    pub answer: Vec<String>,
    /// One verdict per alternative but the baseline, the best-ranked first.
    pub verdicts: Vec<VerdictTold>,
    /// The terminal's table; its first row is the head.
    pub table: Vec<Vec<String>>,
    /// The unit of area that money is told by.
    pub area_word: &'static str,
    /// What the answer leaves out.
    pub limits: Vec<String>,
}

/// The verdict on one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictTold {
    /// Its place in the scenario.
    pub alternative: usize,
    /// Its name.
    pub name: String,
    /// Pays, does not pay, or cannot be told.
    pub answer: Answer,
    /// The answer to "does it pay?".
    pub word: &'static str,
    /// One sentence, and what would settle it.
    pub words: String,
    /// Net return by area and year with its interval; `None` without a value of the yield.
    pub net: Option<String>,
    /// Mean net return and both ends of its interval, by shown area and year.
    pub net_by_area: [f64; 3],
    /// What it hangs on, the widest swing first; those that move nothing are left out.
    pub swings: Vec<SwingTold>,
}

/// How far one price moves the net return.
#[derive(Clone, Debug, PartialEq)]
pub struct SwingTold {
    /// Name of the price.
    pub input: String,
    /// Nobody stands for it.
    pub is_placeholder: bool,
    /// The price at the low end of its range, at base, at the high end.
    pub prices: [String; 3],
    /// Net return there, by shown area and year.
    pub nets_by_area: [f64; 3],
    /// The same as text.
    pub nets: [String; 3],
    /// The price at which the answer turns, inside the range.
    pub turns_at: Option<String>,
}

/// Tells what `worth` found.
///
/// # Errors
/// If scenario and worth do not belong together.
pub fn worth_told(
    scenario: &Scenario,
    worth: &Worth,
    economics: &Economics,
    units: UnitSystem,
) -> Result<WorthTold, DrawError> {
    let scene = WorthScene::new(scenario, worth, economics, units)?;
    Ok(WorthTold {
        answer: answer(&scene),
        verdicts: scene.rivals.iter().map(|rival| verdict(&scene, rival)).collect(),
        table: table_rows(&scene),
        area_word: units.area_word(),
        limits: limits(&scene),
    })
}

fn verdict(scene: &WorthScene<'_>, rival: &Rival<'_>) -> VerdictTold {
    let against = rival.against;
    let sentences = [vec![scene.headline(rival)], scene.settling(rival)].concat();
    let net = &against.net_per_ha.figures;
    let by_area = |per_ha: f64| scene.units().per_area(per_ha);
    let swings = against.swings.iter().filter(|swing| swing.matters() && scene.is_valued());
    VerdictTold {
        alternative: rival.index,
        name: rival.name.to_owned(),
        answer: against.verdict.answer,
        word: answer_word(against.verdict.answer),
        words: sentences.join(" "),
        net: scene.is_valued().then(|| short_net(scene, rival)),
        net_by_area: [net.mean, net.interval.low, net.interval.high].map(by_area),
        swings: swings.map(|swing| told(scene, swing)).collect(),
    }
}

fn told(scene: &WorthScene<'_>, swing: &Swing) -> SwingTold {
    let units = scene.units();
    let item = item_named(&swing.name);
    let price = |value: f64| item.map_or_else(|| money(value), |item| scene.priced(item, value));
    let nets_by_area = swing.nets.map(|per_ha| units.per_area(per_ha));
    SwingTold {
        input: swing.name.clone(),
        is_placeholder: swing.is_placeholder,
        prices: swing.inputs.map(price),
        nets_by_area,
        nets: nets_by_area.map(signed_money),
        turns_at: swing.break_even.map(price),
    }
}
