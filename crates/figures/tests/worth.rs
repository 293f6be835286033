//! What the alternatives are worth: pictures, words, tables, JSON, on seasons really run.
#![allow(clippy::unwrap_used)] // in helpers of tests

mod synthetic;

use evenfall_core::model::Scenario;
use evenfall_core::money::{Price, PriceEntry};
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::worth::{Economics, Worth};
use evenfall_figures::{
    CLIENT_PAGES, GROWER_PAGE, papers, report_page, worth_json, worth_pictures, worth_table,
    worth_view,
};
use evenfall_view::UnitSystem;
use synthetic::notes::{notes, report};
use synthetic::worth::{own_prices, placeholder_prices, real, without};
use synthetic::{Recipe, build};

fn small() -> Recipe {
    Recipe { field_ft: (320.0, 360.0), passes: 4, ..Recipe::demo() }
}

fn weighed(
    economics: impl Fn(usize, usize) -> Economics,
    partial: bool,
) -> (Scenario, Economics, Worth) {
    let (scenario, _) = build(&small());
    let economics = economics(scenario.alternatives.len(), 6);
    let worth = real(&scenario, &economics, partial);
    (scenario, economics, worth)
}

fn table((scenario, economics, worth): &(Scenario, Economics, Worth)) -> String {
    worth_table(scenario, worth, economics, UnitSystem::Us).unwrap()
}

#[test]
fn invariant_pictures_are_drawn_and_the_same_twice() {
    let (scenario, economics, worth) = weighed(own_prices, false);
    let draw = || worth_pictures(&scenario, &worth, &economics, UnitSystem::Us).unwrap();
    let (once, twice) = (draw(), draw());
    assert!(once.len() >= 5, "{}", once.len());
    for (a, b) in once.iter().zip(&twice) {
        assert!(a.svg() == b.svg(), "{}", a.name);
        assert!(a.png(0.5).is_ok(), "{}", a.name);
        assert!(a.svg().len() < 1_000_000, "{}", a.name);
    }
}

/// The words of a text that is broken into lines.
fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn closed_placeholders_and_missing_prices_are_told() {
    assert!(table(&weighed(placeholder_prices, false)).contains("Placeholders"));
    assert!(!table(&weighed(own_prices, false)).contains("Placeholders"));
    let unpriced = table(&weighed(|many, seasons| without(Price::Crop, many, seasons), false));
    assert!(
        on_one_line(&unpriced).contains("You haven’t said what the crop sells for."),
        "{unpriced}"
    );
    let lasting = weighed(|many, seasons| without(Price::JointLife, many, seasons), false);
    let told = table(&lasting);
    assert!(on_one_line(&told).contains("You haven’t said how long a joint lasts."), "{told}");
    assert!(told.contains("inconclusive") && !told.contains(" yes"), "{told}");
    let (scenario, economics, worth) = &lasting;
    let drawn = worth_pictures(scenario, worth, economics, UnitSystem::Us).unwrap();
    assert!(drawn.iter().all(|p| !["worth-sensitivity", "worth-cash"].contains(&p.name)));
}

#[test]
fn closed_a_stopped_run_is_said_to_be_partial() {
    let partial = weighed(own_prices, true);
    let (finished, wanted) = (partial.2.seasons.finished(), partial.2.seasons.wanted);
    assert!(finished < wanted);
    let told = table(&partial);
    assert!(told.contains(&format!("{finished} of {wanted}")), "{told}");
}

#[test]
fn invariant_json_reads_back_and_the_page_leads_with_the_verdict() {
    let (scenario, economics, worth) = weighed(own_prices, false);
    let json: serde_json::Value =
        serde_json::from_str(&worth_json(&scenario, &worth, &economics).unwrap()).unwrap();
    assert!(json.is_object());
    let (_, outcome) = build(&small());
    let notes = notes(&scenario);
    let worth = Some((&worth, &economics));
    let page = report_page(&report((&scenario, &outcome), &notes, worth)).unwrap();
    let (answer, water) =
        (page.find("The answer").unwrap(), page.find("Uniformity of the water").unwrap());
    assert!(answer < water && page.contains("What it is worth"));
    assert!(!page.contains("nothing yet about"));
}

#[test]
fn closed_leaks_that_cost_more_than_a_rotation_brings_are_told_and_paid_for() {
    let (tight, _) = build(&small());
    let mut leaking = tight.clone();
    leaking.alternatives.iter_mut().for_each(|own| own.condition.leaks = Some(0.3));
    let mut economics = own_prices(tight.alternatives.len(), 6);
    economics.prices.set(Price::Water, Some(PriceEntry::own(1.0)));
    let told = |scenario: &Scenario| {
        let worth = real(scenario, &economics, false);
        let text = worth_table(scenario, &worth, &economics, UnitSystem::Us).unwrap();
        let gross_mm = worth.seasons.series(0, |figures| figures.gross_mm);
        let pumped_mm = worth.seasons.series(0, SeasonFigures::pumped_mm);
        (on_one_line(&text), pumped_mm.iter().sum::<f64>() / gross_mm.iter().sum::<f64>())
    };
    let (words, ratio) = told(&leaking);
    assert!(words.contains("In water and energy alone these take more than"), "{words}");
    assert!(words.contains(": leaks about"), "{words}");
    // Three tenths of the inflow are 3/7 of what leaves the nozzles.
    assert!((ratio - 10.0 / 7.0).abs() < 1e-9, "{ratio}");
    let (words, ratio) = told(&tight);
    assert!(!words.contains("leaks about") && (ratio - 1.0).abs() < 1e-12, "{words}");
}

#[test]
fn closed_the_papers_hold_verdict_systems_criteria_and_room_to_sign() {
    let (scenario, outcome) = build(&small());
    let economics = placeholder_prices(scenario.alternatives.len(), 6);
    let worth = real(&scenario, &economics, false);
    let notes = notes(&scenario);
    let asked = || report((&scenario, &outcome), &notes, Some((&worth, &economics)));
    let pages = papers(&asked()).unwrap();
    let names: Vec<&str> = pages.iter().map(|(name, _)| *name).collect();
    assert_eq!(names, [GROWER_PAGE, CLIENT_PAGES]);
    let [(_, grower), (_, client)] = &pages[..] else { panic!("{names:?}") };
    let sentence = worth_view(&scenario, &worth, &economics, UnitSystem::Us).unwrap();
    let sentence = sentence.rivals().next().unwrap().2.verdict.sentence.clone();
    let escaped = on_one_line(&sentence).replace('\'', "&#39;");
    for words in [escaped.as_str(), "What to do", "Before anybody moves pipe", "(placeholder)"] {
        assert!(on_one_line(grower).contains(words), "{words}");
    }
    for words in [escaped.as_str(), "Existing (", "Planned (", "Reviewed by, date", "Net return"] {
        assert!(on_one_line(client).contains(words), "{words}");
    }
    for page in [grower, client] {
        assert!(!page.contains("<script") && !page.contains("http"), "a paper asks for nothing");
    }
    assert_eq!(pages, papers(&asked()).unwrap());
    // Without worth there is nothing to decide on.
    assert!(papers(&report((&scenario, &outcome), &notes, None)).unwrap().is_empty());
}

#[test]
fn closed_a_report_begins_with_its_contents() {
    let (scenario, outcome) = build(&small());
    let notes = notes(&scenario);
    let page = report_page(&report((&scenario, &outcome), &notes, None)).unwrap();
    let (contents, rest) = page.split_once("</nav>").unwrap();
    let entries = contents.matches("<li><a href=\"#").count();
    assert_eq!(entries, rest.matches("<h2 id=").count());
    assert!(entries > 8, "{entries}");
}
