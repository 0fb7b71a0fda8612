//! Names of files that stand together in one folder: safe on every system, and no two alike.

/// Most bytes of a name before its ending; the systems in use take 255 with it.
const LONGEST: usize = 120;

/// The names given out so far.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FileNames {
    given: Vec<String>,
}

impl FileNames {
    /// No names yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { given: Vec::new() }
    }

    /// A name made of words (the job, the piece, which end) with an ending such as `pdf`. Letters
    /// and digits of any script stay, all else becomes a hyphen, and a name that was given already
    /// gets a number: `cope-Upright-end-A-2.dxf`. Names are taken for alike when a system that does
    /// not tell capitals from small letters could take them so.
    pub fn name(&mut self, words: &[&str], ending: &str) -> String {
        let stem = stem(words);
        let mut name = format!("{stem}.{ending}");
        let mut number = 1;
        while self.given.contains(&folded(&name)) {
            number += 1;
            name = format!("{stem}-{number}.{ending}");
        }
        self.given.push(folded(&name));
        name
    }
}

/// `cope` and the words, joined by hyphens.
fn stem(words: &[&str]) -> String {
    let mut stem = String::from("cope-");
    for letter in words.iter().flat_map(|word| word.chars().chain([' '])) {
        if stem.len() + letter.len_utf8() > LONGEST {
            break;
        }
        if letter.is_alphanumeric() {
            stem.push(letter);
        } else if !stem.ends_with('-') {
            stem.push('-');
        }
    }
    stem.truncate(stem.trim_end_matches('-').len());
    if stem == "cope" {
        stem.push_str("-template");
    }
    stem
}

/// What two names have in common that some system could take for one: capitals of ASCII made
/// small, and any other letter like any other.
fn folded(name: &str) -> String {
    name.chars()
        .map(|letter| {
            if letter.is_ascii() {
                letter.to_ascii_lowercase()
            } else {
                '\u{80}'
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_joined_and_nothing_dangerous_stays() {
        let mut names = FileNames::new();
        assert_eq!(
            names.name(&["Trolley", "Left upright", "end A"], "pdf"),
            "cope-Trolley-Left-upright-end-A.pdf"
        );
        assert_eq!(
            names.name(&["../..\\a:b*\u{0}", "Łódź 横"], "dxf"),
            "cope-a-b-Łódź-横.dxf"
        );
        assert_eq!(names.name(&["", " / "], "svg"), "cope-template.svg");
        assert_eq!(names.name(&[], "svg"), "cope-template-2.svg");
        let long = names.name(&[&"横".repeat(300)], "stl");
        assert!(long.len() <= LONGEST + 4 && long.ends_with("横.stl"));
    }

    #[test]
    fn no_two_names_could_be_one_file() {
        let mut names = FileNames::new();
        assert_eq!(names.name(&["Brace"], "dxf"), "cope-Brace.dxf");
        assert_eq!(names.name(&["brace"], "dxf"), "cope-brace-2.dxf");
        assert_eq!(names.name(&["Brace 2"], "dxf"), "cope-Brace-2-2.dxf");
        assert_eq!(names.name(&["brace"], "svg"), "cope-brace.svg");
        assert_eq!(names.name(&["É"], "svg"), "cope-É.svg");
        assert_eq!(names.name(&["é"], "svg"), "cope-é-2.svg");
    }
}
