//! First aid after too much feed: over every mix of answers, one act comes first, and no step below it is another act's.
//!
//! What must hold is written here a second time, from the rule that a waterlogged pot or one with rotted roots is never flushed
//! (method, salt rescue) and that what kills weeds must reach no plant.

use super::knowledge;
use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::AdvicePart;
use tubgrove::plan::{Advisor, Plan};

const NOT_SURE: &str = "not sure";

/// One mix of answers.
#[derive(Debug, Clone, Copy)]
struct Case<'a> {
    feed: &'a str,
    days: &'a str,
    moisture: &'a str,
    drainage: &'a str,
    smell: &'a str,
    dry_core: &'a str,
    pot: &'a str,
    signs: &'a str,
}

impl Case<'_> {
    /// Water in it does harm, or may: nobody is told to flush before a look.
    fn looks_first(&self) -> bool {
        let old = !matches!(self.days, "0" | "2");
        self.drainage == NOT_SURE
            || self.smell == NOT_SURE
            || self.drainage == "standing_water"
            || (old && (matches!(self.moisture, "wet" | NOT_SURE) || self.signs == "wilting"))
    }

    fn fresh_mix(&self) -> bool {
        let soaked = matches!(self.moisture, "wet" | NOT_SURE);
        self.smell == "yes" || (self.drainage == "standing_water" && soaked)
    }

    fn plan(&self, advisor: &Advisor<'_>) -> Plan {
        let k = knowledge();
        let mut sheet = Sheet::new(k.vocabulary.len());
        for (fact, text) in [
            ("overdose_feed", self.feed),
            ("overdose_days", self.days),
            ("mix_moisture", self.moisture),
            ("drainage", self.drainage),
            ("sour_smell", self.smell),
            ("water_runs_through", self.dry_core),
            ("pot_kind", self.pot),
            ("overdose_signs", self.signs),
            ("pot_volume", "20"),
        ] {
            let id = k.vocabulary.find(fact).unwrap();
            let value = Value::read(k.vocabulary.get(id), text).unwrap_or_else(|e| panic!("{e}"));
            sheet.set(id, value, Origin::File);
        }
        advisor.plan(k.walk("rescue").unwrap(), &sheet)
    }
}

/// Calls `visit` with every mix.
fn each(visit: &mut dyn FnMut(Case<'_>, &Plan)) {
    let advisor = Advisor::new(knowledge(), jiff::civil::date(2026, 12, 5)).unwrap();
    let feeds = [
        "dissolved",
        "dry",
        "coated",
        "sprayed",
        "weedkiller",
        NOT_SURE,
    ];
    for feed in feeds {
        for days in ["0", "2", "1 to 7", "5", "60", NOT_SURE] {
            for moisture in ["dry", "moist", "wet", NOT_SURE] {
                for drainage in ["free", "slow", "standing_water", NOT_SURE] {
                    for smell in ["yes", "no", NOT_SURE] {
                        for dry_core in ["yes", "no", NOT_SURE] {
                            for pot in ["plastic", "reservoir"] {
                                for signs in ["nothing", "tips", "wilting", NOT_SURE] {
                                    let case = Case {
                                        feed,
                                        days,
                                        moisture,
                                        drainage,
                                        smell,
                                        dry_core,
                                        pot,
                                        signs,
                                    };
                                    visit(case, &case.plan(&advisor));
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Texts of the steps, joined.
fn steps(plan: &Plan) -> String {
    let steps = plan.advice.iter().filter(|a| a.part == AdvicePart::Rescue);
    steps
        .map(|a| a.text.as_str())
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn one_act_comes_first_and_every_step_is_its_own() {
    let mut mixes = 0;
    each(&mut |case, plan| {
        mixes += 1;
        let (head, steps) = (plan.headline.as_str(), steps(plan));
        let litres = steps.matches("of plain water, ").count()
            + steps.matches("of plain water through").count();
        let told = format!("{case:?}\n{head}\n{steps}");
        if matches!(case.feed, "weedkiller" | "sprayed") || case.fresh_mix() {
            assert_eq!(litres, 0, "no flush: {told}");
            assert!(
                !head.contains("flush with") && !head.contains("Flush today"),
                "{told}"
            );
        } else {
            assert_eq!(litres, 1, "one flush, with its litres: {told}");
            // A look comes first, in the verdict as in the step.
            let ordered = steps.contains("Flush: pour");
            assert_eq!(ordered, !case.looks_first(), "{told}");
            assert!(ordered || !head.starts_with("Flush"), "{told}");
        }
        if case.feed == "weedkiller" {
            assert!(!steps.contains("onto garden soil"), "{told}");
        }
        assert_eq!(
            case.feed == NOT_SURE,
            steps.contains("may have held a weedkiller"),
            "{told}"
        );
        assert_eq!(
            steps.contains("Do NOT flush"),
            head.starts_with("Do not flush"),
            "{told}"
        );
        let tank = case.pot == "reservoir" && case.feed != "sprayed";
        assert_eq!(tank, steps.contains("Empty the tank"), "{told}");
    });
    assert_eq!(mixes, 6 * 6 * 4 * 4 * 3 * 3 * 2 * 4);
}
