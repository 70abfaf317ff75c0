//! Examples at the end of each command's help, as they can be typed; `tests/help.rs` types them.
//!
//! They are looked up when the help of a command is built: hanging them on every command costs each start a tenth more.

/// Examples by the name of the command.
const EXAMPLES: [(&str, &str); 17] = [
    (
        "diagnose",
        "Examples:\n  tubgrove diagnose                             asks, question by question\n  tubgrove diagnose --answers my-lemon.yaml      with the answers from a file\n  tubgrove diagnose --tree Meyer                 a tree of the record",
    ),
    (
        "first-feed",
        "Examples:\n  tubgrove first-feed\n  tubgrove first-feed --html plan.html           with a page to print",
    ),
    (
        "precheck",
        "Examples:\n  tubgrove precheck\n  tubgrove precheck --tree Kumquat --product Powder\n  tubgrove precheck --answers my-kumquat.yaml --set planned_amount=\"3 g in 3 L\"",
    ),
    (
        "rescue",
        "Examples:\n  tubgrove rescue\n  tubgrove rescue --tree Meyer",
    ),
    (
        "blend",
        "Examples:\n  tubgrove blend \"blood meal\" \"bone meal\" 5-3-2\n  tubgrove blend \"blood meal\" 3-5-6 --scoop \"1 tbsp\" --batch \"2 kg\"",
    ),
    (
        "strength",
        "Examples:\n  tubgrove strength \"24-8-16 = 3 g\" --can 3L\n  tubgrove strength \"Epsom salt = 5 g\" --can 5L --tree Yuzu",
    ),
    (
        "reading",
        "Examples:\n  tubgrove reading EC=1.2 --method 1:2\n  tubgrove reading pH=7.4\n  tubgrove reading N=2.1 Zn=16",
    ),
    (
        "leaf-guide",
        "Examples:\n  tubgrove leaf-guide\n  tubgrove leaf-guide net\n  tubgrove leaf-guide --html leaves.html",
    ),
    (
        "tree",
        "Examples:\n  tubgrove tree add \"Second Meyer\" --citrus meyer_lemon --volume 15L\n  tubgrove tree list\n  tubgrove tree change Meyer --volume 20L",
    ),
    (
        "shelf",
        "Examples:\n  tubgrove shelf add Pellets --kind organic_granular --grade 5-3-2\n  tubgrove shelf list",
    ),
    (
        "site",
        "Examples:\n  tubgrove site --hemisphere south --climate light_frost_wet_summer\n  tubgrove site",
    ),
    (
        "log",
        "Examples:\n  tubgrove log feed --tree Meyer --product Powder --amount 3g --water 3L\n  tubgrove log rain \"25 mm\"\n  tubgrove log undo 13                          its number is in history",
    ),
    (
        "history",
        "Examples:\n  tubgrove history Meyer\n  tubgrove history Meyer --html meyer.html",
    ),
    (
        "due",
        "Examples:\n  tubgrove due\n  tubgrove due --ics feeding.ics",
    ),
    (
        "round",
        "Examples:\n  tubgrove round                                 what to do today, for all trees\n  tubgrove round --html today.html      with a page to carry along the pots",
    ),
    (
        "record",
        "Examples:\n  tubgrove record backup garden.db\n  tubgrove record check\n  tubgrove record export --table trees > trees.csv",
    ),
    (
        "knowledge",
        "Examples:\n  tubgrove knowledge check\n  tubgrove knowledge check --anew\n  tubgrove knowledge check --local-rules my-rules\n  tubgrove knowledge draw precheck -o precheck.svg",
    ),
];

/// The examples of a command; empty where there are none.
pub(in crate::cli) fn of(command: &str) -> &'static str {
    EXAMPLES
        .iter()
        .find(|(name, _)| *name == command)
        .map_or("", |(_, text)| text)
}
