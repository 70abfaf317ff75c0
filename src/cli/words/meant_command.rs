//! Which command a mistyped word meant: the one the fewest slips of a finger away, not the one that begins alike.

/// Fewest letters at which the beginning of a command stands for it.
const BEGUN: usize = 3;

/// The command that was meant; `None` where no command is near enough to be worth suggesting.
pub(in crate::cli) fn meant<'c>(
    typed: &str,
    commands: impl Iterator<Item = &'c str>,
) -> Option<&'c str> {
    // A capital, an underline or a missing hyphen is no slip.
    let plain = |word: &str| word.to_lowercase().replace(['-', '_', ' '], "");
    let typed = plain(typed);
    let letters = typed.chars().count();
    let slips = match letters {
        0..=2 => 0,
        3..=5 => 1,
        6..=8 => 2,
        _ => 3,
    };
    let mut near: Vec<(usize, bool, &str)> = Vec::new();
    for command in commands {
        let plain = plain(command);
        let away = strsim::osa_distance(&typed, &plain);
        let begins = letters >= BEGUN && plain.starts_with(&typed);
        if away <= slips || begins {
            let other_letter = plain.chars().next() != typed.chars().next();
            near.push((if begins { 0 } else { away }, other_letter, command));
        }
    }
    near.into_iter().min().map(|(.., command)| command)
}

#[cfg(test)]
mod tests {
    use super::meant;
    use crate::cli::words::args::Cli;
    use clap::CommandFactory;

    #[test]
    fn a_mistyped_command_is_the_one_the_fewest_slips_away() {
        let mut tree = Cli::command();
        tree.build();
        let of = |above: &str, typed: &str| {
            let at = match above {
                "" => &tree,
                above => tree.find_subcommand(above).unwrap(),
            };
            meant(typed, at.get_subcommands().map(clap::Command::get_name)).map(str::to_owned)
        };
        for (above, typed, wanted) in [
            ("", "rescu", "rescue"),
            ("", "resuce", "rescue"),
            ("", "prechek", "precheck"),
            ("", "pre-check", "precheck"),
            ("", "firstfeed", "first-feed"),
            ("", "first_feed", "first-feed"),
            ("", "first-fed", "first-feed"),
            ("", "strenght", "strength"),
            ("", "shelff", "shelf"),
            ("", "rond", "round"),
            ("", "raound", "round"),
            ("", "diagnos", "diagnose"),
            ("", "histroy", "history"),
            ("", "Precheck", "precheck"),
            ("", "diag", "diagnose"),
            ("", "knowlege", "knowledge"),
            ("", "deu", "due"),
            ("log", "fed", "feed"),
            ("log", "flsh", "flush"),
            ("tree", "lst", "list"),
        ] {
            assert_eq!(of(above, typed).as_deref(), Some(wanted), "{typed}");
        }
        for (above, typed) in [("", "fooo"), ("", "x"), ("", ""), ("log", "frost")] {
            assert_eq!(of(above, typed), None, "{typed}");
        }
    }
}
