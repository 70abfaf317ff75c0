//! The frame of every page: language, title, style for screen and paper, light and dark.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Colours with a contrast of at least 4.5 to 1 for text, in light and in dark; black on white on paper.
const STYLE: &str = include_str!("page.css");

/// A whole page. `title` stands in the browser's tab and `lang` is a language tag such as `en-GB`; `body` brings its own
/// `<h1>`. The text ends with a line feed.
#[must_use]
pub fn page(title: &str, lang: &str, body: &Markup) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang=(lang) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                // Nothing may be fetched and nothing may run, whatever a text may try.
                meta http-equiv="Content-Security-Policy"
                    content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";
                meta name="generator" content="tubgrove";
                title { (title) }
                // A browser asks for an icon by itself unless the page names an empty one.
                link rel="icon" href="data:,";
                style { (PreEscaped(STYLE)) }
            }
            body {
                main { (body) }
            }
        }
    };
    let mut text = markup.into_string();
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast of two colours as the Web Content Accessibility Guidelines 2.1 define it (relative luminance).
    fn contrast(a: &str, b: &str) -> f64 {
        let light = |colour: &str| -> f64 {
            let value = u32::from_str_radix(colour.trim_start_matches('#'), 16).unwrap_or(0);
            [(16, 0.2126), (8, 0.7152), (0, 0.0722)]
                .iter()
                .map(|(shift, share)| {
                    let channel = f64::from(value >> shift & 0xff) / 255.0;
                    let linear = if channel <= 0.04045 {
                        channel / 12.92
                    } else {
                        ((channel + 0.055) / 1.055).powf(2.4)
                    };
                    share * linear
                })
                .sum()
        };
        let (a, b) = (light(a), light(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    fn colours(block: &str) -> Vec<(String, String)> {
        block
            .split(';')
            .filter_map(|line| line.trim().trim_start_matches('{').trim().split_once(':'))
            .filter(|(name, _)| name.starts_with("--"))
            .map(|(name, colour)| (name.trim().to_owned(), colour.trim().to_owned()))
            .collect()
    }

    #[test]
    fn the_measure_of_contrast_is_that_of_the_guidelines() {
        // WCAG 2.1: black on white is 21 to 1; #777 on white is the well-known near miss of 4.48.
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
        assert!((contrast("#777777", "#ffffff") - 4.48).abs() < 0.005);
    }

    #[test]
    fn every_text_colour_can_be_read_on_every_ground() {
        let blocks: Vec<Vec<(String, String)>> = STYLE
            .split(":root")
            .skip(1)
            .filter_map(|b| b.split('}').next())
            .map(colours)
            .filter(|c| !c.is_empty())
            .collect();
        assert_eq!(blocks.len(), 3, "light, dark and paper");
        for block in blocks {
            let named = |name: &str| {
                let found = block.iter().find(|(n, _)| n == name);
                found.map(|(_, c)| c.clone()).unwrap_or_default()
            };
            for ground in ["--ground", "--panel"] {
                for text in [
                    "--text", "--soft", "--go", "--less", "--wait", "--stop", "--rain", "--feed",
                ] {
                    let ratio = contrast(&named(text), &named(ground));
                    assert!(ratio >= 4.5, "{text} on {ground}: {ratio:.2}");
                }
            }
        }
    }

    #[test]
    fn texts_from_outside_cannot_become_markup() {
        let shown = page(
            "<script>1</script>",
            "en\"><script>",
            &html! { p { "</style><script>" } },
        );
        assert!(!shown.contains("<script"));
        assert!(shown.contains("&lt;script&gt;"));
    }
}
