//! A material in full: its grade, its density and what it reacts with; and what is known of mixing it dry.

use super::Page;
use super::figure::{known, sources_of, with_sources};
use crate::knowledge::{
    BagTrait, DryPair, Knowledge, Material, PairVerdict, Release, SparedTrait, Told,
};
use crate::report::words::upper_first;

pub(super) fn material(page: &mut Page, k: &Knowledge, m: &Material) {
    page.head(&format!(
        "Material {}: {} {}-{}-{}",
        m.id, m.name, m.n.value, m.p2o5.value, m.k2o.value
    ));
    page.named("Other words", &m.words.join(", "));
    let release = match m.release {
        Release::Ready => "acts at once",
        Release::Organic => "acts as it rots",
        Release::Coated => "acts through a coat, over weeks",
        Release::None => "is no feed",
    };
    page.named(
        "Kind",
        &format!("{}; it {release}", m.kind.replace('_', " ")),
    );
    for (name, figure) in [("N", &m.n), ("P2O5", &m.p2o5), ("K2O", &m.k2o)] {
        page.item(&format!("{name} {} %{}", figure.value, known(figure)));
    }
    if let Some(f) = &m.forms {
        page.item(&format!(
            "nitrogen as nitrate {} %, ammonium {} %, urea {} % ({})",
            f.nitrate,
            f.ammonium,
            f.urea,
            with_sources(f.mark.words(), &f.source)
        ));
    }
    for (symbol, share) in &m.also.shares {
        let mark = m.also.mark.map_or("", crate::knowledge::Mark::words);
        page.item(&format!(
            "{} {share} % ({})",
            upper_first(symbol),
            with_sources(mark, &m.also.source)
        ));
    }
    page.item(&format!(
        "density {} to {} g/mL ({})",
        m.density.low,
        m.density.high,
        with_sources(m.density.mark.words(), &m.density.source)
    ));
    if let Some(figure) = &m.acidity {
        page.item(&format!(
            "lime value {} kg in 100 kg{}",
            figure.value,
            known(figure)
        ));
    }
    page.named("Traits", &m.traits.join(", "));
    page.named("Handling", &m.handling);
    page.line(&m.note);
    for r in k.reactions.iter().filter(|r| m.has(&r.a) || m.has(&r.b)) {
        page.item(&format!(
            "{} with {} ({}): {} ({})",
            r.a,
            r.b,
            r.verdict,
            r.what,
            with_sources(r.mark.words(), &r.source)
        ));
    }
    let has = |traits: &[crate::facts::Text]| traits.iter().any(|t| m.has(t));
    for pair in k.dry_mix.pairs.iter().filter(|p| has(&p.a) || has(&p.b)) {
        page.item(&format!("{} ({})", beside(pair), known_by(pair)));
    }
    for row in k.dry_mix.spared.iter().filter(|row| m.has(&row.r#trait)) {
        page.item(&format!(
            "left out of a blend while the rest does: {} ({})",
            row.what,
            with_sources(row.mark.words(), &row.source)
        ));
    }
    page.line("Sources:");
    page.sources(k, &sources_of(k, "material", &m.id));
}

/// What a bag known by its three numbers may hold.
pub(super) fn bag(page: &mut Page, k: &Knowledge, row: &BagTrait) {
    page.head(&format!(
        "Bag known by its numbers {}: may have the trait {}",
        row.id, row.r#trait
    ));
    for (name, share) in [("N", &row.n), ("P2O5", &row.p2o5)] {
        let bounds = [
            ("above", share.above),
            ("from", share.from),
            ("at most", share.at_most),
        ];
        for (word, bound) in bounds {
            if let Some(bound) = bound {
                page.item(&format!("{name} {word} {bound} %"));
            }
        }
    }
    let told: Vec<&str> = row
        .told
        .iter()
        .map(|told| match told {
            Told::Organic => "kind=organic",
            Told::Mineral => "kind=mineral",
            Told::Nothing => "nothing",
        })
        .collect();
    page.named("Where the grower said", &told.join(" or "));
    page.line(&row.note);
    page.named("Worked out again by", row.test.as_deref().unwrap_or(""));
    page.named("Known", row.mark.words());
    page.sources(k, &row.source);
}

/// Two materials that do not go together in a dry mix.
pub(super) fn pair(page: &mut Page, k: &Knowledge, pair: &DryPair) {
    page.head(&format!("Pair {}", pair.id));
    page.line(&beside(pair));
    page.named("Known", pair.mark.words());
    page.sources(k, &pair.source);
}

/// What a blend leaves on the shelf.
pub(super) fn spared(page: &mut Page, k: &Knowledge, row: &SparedTrait) {
    page.head(&format!(
        "Left on the shelf {}: what has the trait {}, while the rest brings all that is wanted",
        row.id, row.r#trait
    ));
    page.line(&row.what);
    page.named("Known", row.mark.words());
    page.sources(k, &row.source);
}

/// "alkaline with any (refuse): what happens".
fn beside(pair: &DryPair) -> String {
    let verdict = match pair.verdict {
        PairVerdict::Refuse => "refuse",
        PairVerdict::Care => "care",
    };
    format!(
        "{} with {} ({verdict}): {}",
        pair.a.join("/"),
        pair.b.join("/"),
        pair.what
    )
}

fn known_by(pair: &DryPair) -> String {
    with_sources(pair.mark.words(), &pair.source)
}
