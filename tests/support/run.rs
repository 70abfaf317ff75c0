//! A walk run through with the answers there are and the rest not sure, as the commands do.

use tubgrove::facts::Sheet;
use tubgrove::knowledge::Knowledge;
use tubgrove::plan::{Advisor, Plan};
use tubgrove::walk::{Next, Session};

/// The day of a story that names none.
const A_DAY: &str = "2026-12-05";

/// The plan that a walk ends with.
pub(crate) fn plan(k: &Knowledge, walk: &str, today: Option<&str>, sheet: Sheet) -> Plan {
    let today = today.unwrap_or(A_DAY).parse().unwrap();
    let advisor = Advisor::new(k, today).unwrap();
    let walk = k.walk(walk).unwrap_or_else(|| panic!("no walk {walk}"));
    let opens = |s: &Sheet, gate| advisor.opens(s, gate);
    let complete = |s: &mut Sheet| advisor.complete(s);
    let mut session = Session::new(k, walk, sheet, &opens, &complete);
    while let Next::Ask { step, .. } = session.next() {
        session.answer(step, &[]);
    }
    advisor.plan(walk, &session.sheet())
}
