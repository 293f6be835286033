//! The reference as plain values: chapters to read, keys of a scenario, commands with their options.

/// All of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reference {
    /// What is read from beginning to end.
    pub chapters: Vec<Chapter>,
    /// What is said before the keys; Markdown.
    pub keys_about: String,
    /// Sections of the scenario file.
    pub keys: Vec<ReferenceSection>,
    /// Commands.
    pub commands: Vec<ReferenceSection>,
}

/// A chapter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chapter {
    /// Its title.
    pub title: String,
    /// Titles, the first of which may be empty, and under each its paragraphs as Markdown.
    pub parts: Vec<(String, String)>,
}

/// A section of the file, or a command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReferenceSection {
    /// Its name as it is written: `field.boundary`, `evenfall season`.
    pub name: String,
    /// What the page calls it; empty for commands.
    pub label: String,
    /// What it is.
    pub about: String,
    /// Its keys or options.
    pub rows: Vec<ReferenceRow>,
}

/// A key, or an option of a command.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReferenceRow {
    /// As it is written.
    pub name: String,
    /// What the page calls it; empty for options.
    pub label: String,
    /// What it means and what it may be.
    pub meaning: String,
    /// What holds without it, and why; empty where nothing does.
    pub left_out: String,
}

impl Chapter {
    /// A chapter from Markdown: its title is the first line, `# …`, and each `## …` begins a part.
    pub fn of(markdown: &str) -> Self {
        let (title, rest) = markdown.split_once('\n').unwrap_or((markdown, ""));
        let part = |text: &str| {
            let (title, text) = text.split_once('\n').unwrap_or((text, ""));
            (title.trim().to_owned(), text.trim().to_owned())
        };
        let rest = format!("\n{rest}");
        let mut texts = rest.split("\n## ");
        // What stands before the first head has no title.
        let first = texts.next().map_or("", str::trim);
        let first = (!first.is_empty()).then(|| (String::new(), first.to_owned()));
        let parts = first.into_iter().chain(texts.map(part)).collect();
        Self { title: title.trim_start_matches('#').trim().to_owned(), parts }
    }
}

impl Reference {
    /// What holds every one of the words, in whatever case; a row counts with the name of its section,
    /// a paragraph with its titles.
    #[must_use]
    pub fn holding(&self, words: &[String]) -> Self {
        let words: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
        let holds = |parts: &[&str]| {
            let text = parts.join("\n").to_lowercase();
            words.iter().all(|word| text.contains(word))
        };
        let sections = |all: &[ReferenceSection]| -> Vec<ReferenceSection> {
            let some = all.iter().filter_map(|section| {
                let has = |row: &&ReferenceRow| {
                    let name = [&section.name, &row.name].map(String::as_str).join(".");
                    holds(&[
                        &name,
                        &section.name,
                        &section.label,
                        &row.label,
                        &row.meaning,
                        &row.left_out,
                    ])
                };
                let rows: Vec<ReferenceRow> = section.rows.iter().filter(has).cloned().collect();
                let is_said =
                    !rows.is_empty() || holds(&[&section.name, &section.label, &section.about]);
                is_said.then(|| ReferenceSection { rows, ..section.clone() })
            });
            some.collect()
        };
        let chapters = self.chapters.iter().filter_map(|chapter| {
            let kept = |(title, text): &(String, String)| {
                let paragraphs = text.split("\n\n");
                let said = paragraphs.filter(|said| holds(&[&chapter.title, title, said]));
                let said = said.collect::<Vec<_>>().join("\n\n");
                (!said.is_empty()).then(|| (title.clone(), said))
            };
            let parts: Vec<_> = chapter.parts.iter().filter_map(kept).collect();
            (!parts.is_empty()).then(|| Chapter { title: chapter.title.clone(), parts })
        });
        Self {
            chapters: chapters.collect(),
            keys_about: String::new(),
            keys: sections(&self.keys),
            commands: sections(&self.commands),
        }
    }

    /// Whether there is nothing.
    pub fn is_empty(&self) -> bool {
        self.chapters.is_empty() && self.keys.is_empty() && self.commands.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str, meaning: &str) -> ReferenceRow {
        let (name, meaning) = (name.to_owned(), meaning.to_owned());
        ReferenceRow { name, label: String::new(), meaning, left_out: String::new() }
    }

    fn small() -> Reference {
        let soil =
            vec![row("texture", "Class of the soil."), row("intake_rate", "What it takes in.")];
        let [name, label, about] = ["soil", "Soil", "The ground."].map(str::to_owned);
        Reference {
            chapters: vec![Chapter::of(
                "# Limits\n\nWind is one value.\n\nSoil is one.\n\n## Money\n\nYours.",
            )],
            keys_about: "How values are written.".to_owned(),
            keys: vec![ReferenceSection { name, label, about, rows: soil }],
            commands: Vec::new(),
        }
    }

    #[test]
    fn closed_a_chapter_is_cut_at_its_heads() {
        let all = small();
        let [chapter] = &all.chapters[..] else { panic!("{all:?}") };
        assert_eq!(chapter.title, "Limits");
        let titles: Vec<&str> = chapter.parts.iter().map(|(title, _)| title.as_str()).collect();
        assert_eq!(titles, ["", "Money"]);
        assert_eq!(chapter.parts[1].1, "Yours.");
    }

    #[test]
    fn closed_only_what_holds_every_word_is_found() {
        let words =
            |words: &[&str]| -> Vec<String> { words.iter().map(|w| (*w).to_owned()).collect() };
        let found = small().holding(&words(&["SOIL"]));
        assert_eq!(found.keys[0].rows.len(), 2);
        assert_eq!(found.chapters[0].parts, [(String::new(), "Soil is one.".to_owned())]);
        let found = small().holding(&words(&["soil", "takes"]));
        assert_eq!((found.keys[0].rows.len(), found.chapters.len()), (1, 0));
        assert_eq!(small().holding(&words(&["soil.texture"])).keys[0].rows[0].name, "texture");
        assert!(small().holding(&words(&["nowhere"])).is_empty());
    }
}
