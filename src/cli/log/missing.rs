//! What `log` lacks, in words of our own: the parser only names what it did not find.

/// A feed with only one of product and amount.
pub(in crate::cli) const FEED: &str = "a feed needs both, product and amount; for example: tubgrove log feed --tree Yuzu --product Powder --amount \"3 g\" --water \"3 L\". Without both, the dose of the tree's last plan is taken over";

/// The sentence for a command whose arguments are not complete, from what was typed behind the program's name.
pub(in crate::cli) fn sentence<'t>(typed: impl Iterator<Item = &'t str>) -> Option<&'static str> {
    let mut words = typed.filter(|w| !w.starts_with('-'));
    words.find(|w| *w == "log")?;
    let rest: Vec<&str> = words.collect();
    let of = |what: &str| rest.contains(&what);
    Some(if of("reading") {
        "how was the EC measured? --method one_to_two, saturated or pour_through; for example: tubgrove log reading --tree Yuzu --ec 1.2 --method pour_through"
    } else if of("epsom") {
        "how much Epsom salt did each tree get? For example: tubgrove log epsom \"5 g\" --tree Yuzu --water \"3 L\""
    } else if of("move") {
        "where to? outdoors, under_cover or indoors; for example: tubgrove log move under_cover --tree Yuzu"
    } else if of("picked") {
        "how many fruits? For example: tubgrove log picked 12 --tree Yuzu"
    } else if of("rain") {
        "how many mm are in the gauge? For example: tubgrove log rain 12"
    } else if of("undo") {
        "which entry? tubgrove history NAME shows their numbers; for example: tubgrove log undo 5"
    } else if of("note") {
        "what is the note? For example: tubgrove log note \"first flowers\" --tree Yuzu"
    } else if of("feed") {
        FEED
    } else {
        return None;
    })
}
