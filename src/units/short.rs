//! Text of others in our own sentences, short enough to be read.

/// Letters that a quoted text keeps before it is cut short.
const LETTERS: usize = 40;
/// Letters of the beginning of one that is cut: fewer than [`DIGITS`].
const HEAD: usize = 12;
/// Digits (the point counted) that a number keeps before it is rounded: what a double holds,
/// and a sign of rounding behind that.
const DIGITS: usize = 15;

/// A text as it may stand in a sentence: whole if it is short, otherwise its beginning and how
/// long it is.
pub fn shortened(text: &str) -> String {
    let count = text.chars().count();
    if count <= LETTERS {
        return text.into();
    }
    let head: String = text.chars().take(HEAD).collect();
    format!("{head}… ({count} letters)")
}

/// A sentence with every number of more digits than a builder can use rounded: 1e300 is not
/// written out.
pub fn short_numbers(sentence: &str) -> String {
    let mut out = String::with_capacity(sentence.len());
    let mut rest = sentence;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        out.push_str(&rest[..start]);
        rest = &rest[start..];
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        // A full stop behind a number is no part of it.
        let figure = rest[..end].trim_end_matches('.');
        match figure.parse::<f64>() {
            Ok(value) if figure.len() > DIGITS => out.push_str(&rounded(value)),
            _ => out.push_str(figure),
        }
        rest = &rest[figure.len()..];
    }
    out.push_str(rest);
    out
}

fn rounded(value: f64) -> String {
    if value == 0.0 || (1e-3..1e9).contains(&value) {
        let text = format!("{value:.6}");
        text.trim_end_matches('0').trim_end_matches('.').into()
    } else {
        format!("{value:.3e}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_texts_are_cut_short() {
        let long = format!("x = {} mm", 1e300);
        assert_eq!(long.len(), 308);
        assert_eq!(short_numbers(&long), "x = 1.000e300 mm");
        assert_eq!(short_numbers(&format!("{:.300}.", 1e-200)), "1.000e-200.");
        assert_eq!(short_numbers(&format!("it is {}, ends.", 0.1 + 0.2)), "it is 0.3, ends.");
        assert_eq!(
            short_numbers("duck 3 at 1234.5, -20000 to 20000"),
            "duck 3 at 1234.5, -20000 to 20000"
        );
        assert_eq!(short_numbers(""), "");
        assert_eq!(shortened("wide"), "wide");
        let nines = "9".repeat(300);
        assert_eq!(shortened(&nines), "999999999999… (300 letters)");
        assert_eq!(shortened(&"ö".repeat(41)), format!("{}… (41 letters)", "ö".repeat(12)));
    }
}
