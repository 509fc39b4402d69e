//! How the words of a formal message are counted, and how long it takes to read it out.

/// The groups of a text as a radiogram sends them: what stands between spaces is one group each, be it a word, figures or mixed. A text
/// has no punctuation there: a full stop within it is sent as X, which counts, and is left out at its end; a question mark is sent as
/// QUERY; a comma and other signs are not sent; a point among figures is sent as R within its group.
///
/// The ARRL's rules for radiogram text (from memory): groups, X and its place, QUERY, R for the decimal point.
#[must_use]
pub fn groups(text: &str) -> Vec<String> {
    let mut groups: Vec<String> = Vec::new();
    for written in text.split_whitespace() {
        let word = written.trim_end_matches(|c: char| is_silent(c) || matches!(c, '.' | '?'));
        let end = written.get(word.len()..).unwrap_or("");
        let word = word.trim_start_matches(is_silent);
        let word = decimal(word).to_uppercase();
        groups.extend((!word.is_empty()).then_some(word));
        let sign = end.chars().find_map(|c| match c {
            '.' => Some("X"),
            '?' => Some("QUERY"),
            _ => None,
        });
        // A sign with nothing before it ends nothing.
        groups.extend(sign.filter(|_| !groups.is_empty()).map(str::to_owned));
    }
    // X stands between sentences, and never at the end.
    while groups.last().is_some_and(|group| is_stop(group)) {
        groups.pop();
    }
    groups
}

/// The check: how many groups the text has.
#[must_use]
pub fn words(text: &str) -> usize {
    groups(text).len()
}

/// Whether the text uses a numbered text, so that its check begins with ARL: the word stands before a number that is spelled out.
#[must_use]
pub fn is_arl(text: &str) -> bool {
    let groups = groups(text);
    let is_number = |group: &String| NUMBERS.contains(&group.as_str());
    groups.windows(2).any(|pair| matches!(pair, [arl, number] if arl == "ARL" && is_number(number)))
}

/// Numbers with which that of a numbered text begins.
const NUMBERS: [&str; 28] = [
    "ONE",
    "TWO",
    "THREE",
    "FOUR",
    "FIVE",
    "SIX",
    "SEVEN",
    "EIGHT",
    "NINE",
    "TEN",
    "ELEVEN",
    "TWELVE",
    "THIRTEEN",
    "FOURTEEN",
    "FIFTEEN",
    "SIXTEEN",
    "SEVENTEEN",
    "EIGHTEEN",
    "NINETEEN",
    "TWENTY",
    "THIRTY",
    "FORTY",
    "FIFTY",
    "SIXTY",
    "SEVENTY",
    "EIGHTY",
    "NINETY",
    "HUNDRED",
];

/// How many seconds `words` take at so many a minute, rounded up.
#[must_use]
pub fn reading_seconds(words: usize, a_minute: u16) -> u64 {
    let words = u64::try_from(words).unwrap_or(u64::MAX / 60);
    words.saturating_mul(60).div_ceil(u64::from(a_minute.max(1)))
}

/// Signs that are not sent.
const fn is_silent(c: char) -> bool {
    matches!(c, ',' | ';' | ':' | '!' | '"' | '\'' | '(' | ')' | '-' | '\u{2013}' | '\u{2014}')
}

fn is_stop(group: &str) -> bool {
    matches!(group, "X" | "X-RAY" | "XRAY")
}

/// `146.52` is sent as `146R52`.
fn decimal(word: &str) -> String {
    let is_figures = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    match word.split_once('.') {
        Some((whole, rest)) if is_figures(whole) && is_figures(rest) => format!("{whole}R{rest}"),
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{groups, is_arl, reading_seconds, words};

    #[test]
    fn a_text_is_sent_without_punctuation() {
        assert_eq!(groups("Twelve beds free. Send water.").join(" "), "TWELVE BEDS FREE X SEND WATER");
        assert_eq!(
            groups("Is the bridge open? Heard on 146.52 MHz").join(" "),
            "IS THE BRIDGE OPEN QUERY HEARD ON 146R52 MHZ"
        );
        assert_eq!(groups("beds - 12, (two spare) X").join(" "), "BEDS 12 TWO SPARE");
        assert_eq!((words(""), words(" . "), words("X"), words("- ,")), (0, 0, 0, 0));
        assert_eq!(
            (is_arl("ARL FIFTY ONE X LOVE"), is_arl("ARL is a word"), is_arl("GREETINGS ARL")),
            (true, false, false)
        );
    }

    #[test]
    fn reading_takes_as_long_as_it_takes() {
        assert_eq!(
            (reading_seconds(40, 20), reading_seconds(1, 20), reading_seconds(0, 20), reading_seconds(1, 7)),
            (120, 3, 0, 9)
        );
        assert_eq!(reading_seconds(7, 0), 420, "never divided by nothing");
        let _ = reading_seconds(usize::MAX, 1);
    }
}
