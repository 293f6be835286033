//! A scenario and the texts of the files that it names, carried inside a page for somebody else.
//!
//! The page holds a data block, `<script type="application/json" id="evenfall-scenario">`, which no
//! browser runs. Nothing in it can end the block or begin another: `<`, `>` and `&` are written as
//! escapes of JSON, so that a name such as `</script>` stays a name. The scenario's text is carried
//! letter by letter; its digest is that of the file it came from.

use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// The block's name in the page.
pub const CARRIED_ID: &str = "evenfall-scenario";
/// Version of what stands in the block.
const FORMAT: u64 = 1;

/// What a page carries.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Carried {
    /// Text of the scenario.
    pub scenario: String,
    /// Texts of the files that it names, by that name.
    pub files: BTreeMap<String, String>,
    /// Version of the program that wrote it.
    pub version: String,
}

impl Carried {
    /// What stands in the block: JSON without any letter that means something to HTML.
    pub fn to_block(&self) -> String {
        let files = self.files.iter().map(|(name, text)| (name.clone(), text.as_str().into()));
        let all = json!({
            "evenfall_file": FORMAT,
            "version": self.version,
            "scenario": self.scenario,
            "files": files.collect::<Map<String, Value>>(),
        });
        // Outside texts JSON has none of these letters, and inside an escape means the same.
        all.to_string().replace('<', "\\u003c").replace('>', "\\u003e").replace('&', "\\u0026")
    }

    /// What `page` carries; nothing where it has no block.
    ///
    /// # Errors
    /// Why a block cannot be read: it is cut or was changed.
    pub fn of_page(page: &str) -> Option<Result<Self, String>> {
        let begin = format!("id=\"{CARRIED_ID}\">");
        let (_, rest) = page.split_once(&begin)?;
        let Some((block, _)) = rest.split_once("</script>") else {
            return Some(
                Err("the scenario in this page is cut off. Ask for the file again".into()),
            );
        };
        Some(Self::of_block(block))
    }

    fn of_block(block: &str) -> Result<Self, String> {
        let damaged = || "the scenario in this page is damaged. Ask for the file again".to_owned();
        let all: Value = serde_json::from_str(block).map_err(|_| damaged())?;
        if all["evenfall_file"].as_u64() != Some(FORMAT) {
            return Err("the scenario in this page was written by another version of Evenfall. \
                        Use the version that the page names"
                .to_owned());
        }
        let text = |value: &Value| value.as_str().map(str::to_owned).ok_or_else(damaged);
        let files = all["files"].as_object().ok_or_else(damaged)?;
        let files = files.iter().map(|(name, body)| Ok((name.clone(), text(body)?)));
        Ok(Self {
            scenario: text(&all["scenario"])?,
            files: files.collect::<Result<_, String>>()?,
            version: text(&all["version"])?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(block: &str) -> String {
        format!("<p>x<script type=\"application/json\" id=\"{CARRIED_ID}\">{block}</script>")
    }

    fn hostile() -> Carried {
        let name = "</script><script>alert(1)</script><!-- &amp; \u{2028}";
        Carried {
            scenario: format!("{{ \"title\": \"{name}\" }}\n"),
            files: BTreeMap::from([(format!("{name}.csv"), "\u{feff}a\r\n".to_owned())]),
            version: "0.0.0".to_owned(),
        }
    }

    #[test]
    fn invariant_what_is_carried_comes_back_letter_by_letter_and_ends_no_block() {
        let block = hostile().to_block();
        assert!(!block.contains(['<', '>', '&']), "{block}");
        assert_eq!(Carried::of_page(&page(&block)), Some(Ok(hostile())));
    }

    #[test]
    fn closed_a_cut_or_foreign_page_is_told_from_one_without_a_scenario() {
        let whole = page(&hostile().to_block());
        assert_eq!(Carried::of_page("<p>a page</p>"), None);
        for at in [whole.len() - 1, whole.len() - 40, whole.find("evenfall_file").unwrap()] {
            assert!(Carried::of_page(&whole[..at]).unwrap().is_err());
        }
        let changed = whole.replace("\"evenfall_file\":1", "\"evenfall_file\":2");
        assert!(Carried::of_page(&changed).unwrap().unwrap_err().contains("another version"));
        let changed = whole.replace("\"version\"", "\"vision\"");
        assert!(Carried::of_page(&changed).unwrap().unwrap_err().contains("damaged"));
    }
}
