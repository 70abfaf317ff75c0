//! Proofs about a walk, run at every load.
//!
//! From the graph: no cycle, no unreachable step, no dead end, every path ends; every dose lies behind both gates. From the
//! conditions: no rule reads a question that comes later; whenever a caution is undecided, each gate or scale fact that it
//! lacks has been asked; the limits on the number of questions hold.

use std::collections::HashSet;

use super::graph::Edge;
use super::session::count_at_most;
use super::steps::{StepKind, Walk};
use crate::facts::{Condition, FactId, Kind, Origin, Sheet, Value, View};
use crate::knowledge::{Gate, Knowledge, Level};
use crate::quantity::{Interval, Truth};
use petgraph::algo::{dominators, toposort};
use petgraph::graph::NodeIndex;
use petgraph::visit::{Dfs, EdgeRef, Reversed};

/// What a proof found wrong: the id it is about (a step's question, a caution) and what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flaw {
    /// Question, caution or walk it is about.
    pub about: String,
    /// What does not hold.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

/// Figures of a walk's graph.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Figures {
    /// Steps.
    pub nodes: usize,
    /// Ways between steps.
    pub edges: usize,
    /// Most questions on any path.
    pub longest: usize,
    /// Number of distinct paths.
    pub paths: f64,
}

/// The proofs from the graph and from the order of the questions, which take no time to speak of.
#[must_use]
pub fn prove_graph(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = shape(knowledge, walk);
    if flaws.is_empty() {
        flaws.extend(order(knowledge, walk));
    }
    flaws
}

/// Proves one walk, by graph and by enumeration, and returns what does not hold; none if all does.
#[must_use]
pub fn prove(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = shape(knowledge, walk);
    if flaws.is_empty() {
        flaws.extend(order(knowledge, walk));
        flaws.extend(undecided(knowledge, walk));
        flaws.extend(limits(knowledge, walk));
    }
    flaws
}

/// Figures of a walk whose shape was proved.
#[must_use]
pub fn figures(knowledge: &Knowledge, walk: &Walk) -> Figures {
    let order = toposort(&walk.graph, None).unwrap_or_default();
    let mut ways = vec![0.0_f64; walk.graph.node_count()];
    let mut paths = 0.0;
    for (i, node) in order.iter().enumerate() {
        let here = if i == 0 {
            1.0
        } else {
            ways.get(node.index()).copied().unwrap_or(0.0)
        };
        let mut last = true;
        for edge in walk.graph.edges(*node) {
            last = false;
            if let Some(slot) = ways.get_mut(edge.target().index()) {
                *slot += here;
            }
        }
        if last {
            paths += here;
        }
    }
    Figures {
        nodes: walk.graph.node_count(),
        edges: walk.graph.edge_count(),
        longest: count_at_most(
            knowledge,
            walk,
            &Sheet::new(knowledge.vocabulary.len()),
            &|_| true,
        ),
        paths,
    }
}

/// The graph's shape.
fn shape(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let graph = &walk.graph;
    let name = |node: NodeIndex| {
        graph
            .node_weight(node)
            .map_or_else(String::new, |n| match n.kind {
                StepKind::Ask(q) => knowledge
                    .questions
                    .get(q)
                    .map_or_else(String::new, |q| q.id.clone()),
                StepKind::Gate(gate) => format!("gate {}", gate_word(gate)),
                StepKind::Weigh => "weigh".into(),
                StepKind::Dose => "dose".into(),
                StepKind::End(_) => "end".into(),
            })
    };
    let mut flaws = Vec::new();
    let mut wrong = |about: String, what: &str, mend: &str| {
        flaws.push(Flaw {
            about,
            what: what.into(),
            mend: mend.into(),
        });
    };
    let Some(root) = graph
        .node_indices()
        .find(|n| graph.node_weight(*n).is_some_and(|n| !n.blocked))
    else {
        wrong(walk.id.clone(), "the walk has no steps", "add steps");
        return flaws;
    };
    if let Err(cycle) = toposort(graph, None) {
        wrong(
            name(cycle.node_id()),
            "the steps lead round in a circle",
            "let each step lead forward",
        );
        return flaws;
    }
    let mut reached = HashSet::new();
    let mut dfs = Dfs::new(graph, root);
    while let Some(node) = dfs.next(graph) {
        reached.insert(node);
    }
    let mut ending = HashSet::new();
    for end in graph.node_indices().filter(|n| {
        matches!(
            graph.node_weight(*n).map(|n| n.kind),
            Some(StepKind::End(_))
        )
    }) {
        let mut dfs = Dfs::new(Reversed(graph), end);
        while let Some(node) = dfs.next(Reversed(graph)) {
            ending.insert(node);
        }
    }
    let doms = dominators::simple_fast(graph, root);
    for node in graph.node_indices() {
        if !reached.contains(&node) {
            wrong(
                name(node),
                "no path leads to this step",
                "move it before the end, or take it out",
            );
        } else if !ending.contains(&node) {
            wrong(
                name(node),
                "from this step no path leads to an end",
                "let the walk end with an end step",
            );
        }
        let kind = graph.node_weight(node).map(|n| n.kind);
        let is_gate = matches!(kind, Some(StepKind::Gate(_)));
        let shuts = graph.edges(node).any(|e| *e.weight() == Edge::Blocked);
        if is_gate && !shuts {
            wrong(
                name(node),
                "this gate has no way out when it does not open",
                "add a blocked list that ends",
            );
        }
        if kind == Some(StepKind::Dose) && reached.contains(&node) {
            for gate in [Gate::Tree, Gate::Dose] {
                let guarded = doms.strict_dominators(node).is_some_and(|mut d| {
                    d.any(|n| graph.node_weight(n).map(|n| n.kind) == Some(StepKind::Gate(gate)))
                });
                if !guarded {
                    wrong(
                        "dose".into(),
                        &format!("a dose can be reached without the {} gate", gate_word(gate)),
                        "put both gates before the dose, without a condition",
                    );
                }
            }
        }
    }
    for step in walk.steps.iter().chain(&walk.blocked) {
        if step.when.is_some() && !matches!(step.kind, StepKind::Ask(_)) {
            wrong(
                walk.id.clone(),
                "only a question may have a condition",
                "take the condition off the gate, dose or end",
            );
        }
    }
    if walk.blocked.iter().any(|s| {
        matches!(
            s.kind,
            StepKind::Dose | StepKind::Ask(_) | StepKind::Gate(_)
        )
    }) {
        wrong(
            walk.id.clone(),
            "the way behind a shut gate may only weigh and end",
            "take questions, gates and doses out of it",
        );
    }
    flaws
}

/// No condition reads a question that comes later, and nothing is asked twice.
fn order(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    let mut asked: HashSet<FactId> = HashSet::new();
    let all: HashSet<FactId> = walk
        .questions()
        .filter_map(|(_, q, _)| knowledge.questions.get(q))
        .flat_map(crate::facts::Question::facts)
        .collect();
    for (_, question, step) in walk.questions() {
        let Some(question) = knowledge.questions.get(question) else {
            continue;
        };
        if let Some(when) = &step.when {
            for fact in when.facts() {
                if all.contains(&fact) && !asked.contains(&fact) {
                    flaws.push(Flaw {
                        about: question.id.clone(),
                        what: format!(
                            "its condition reads {} before it is asked",
                            knowledge.vocabulary.get(fact).id
                        ),
                        mend: "move the step further down".into(),
                    });
                }
            }
        }
        for fact in question.facts() {
            if !asked.insert(fact) && step.when.is_none() {
                flaws.push(Flaw {
                    about: question.id.clone(),
                    what: format!("{} is asked twice", knowledge.vocabulary.get(fact).id),
                    mend: "take one of the two steps out".into(),
                });
            }
        }
    }
    flaws
}

/// Whenever a caution that can hold or stop is undecided at its gate, each gate or scale fact that it lacks was asked.
fn undecided(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    for gate in [Gate::Tree, Gate::Dose] {
        let Some(end) = walk
            .steps
            .iter()
            .position(|s| s.kind == StepKind::Gate(gate))
        else {
            continue;
        };
        for caution in knowledge
            .cautions
            .iter()
            .filter(|c| c.gate == gate && c.level >= Level::Reduce)
        {
            let lacking = lacking(knowledge, walk, &caution.when, end);
            for fact in lacking {
                flaws.push(Flaw {
                    about: caution.id.clone(),
                    what: format!(
                        "can be undecided in {} without {} having been asked",
                        walk.id,
                        knowledge.vocabulary.get(fact).id
                    ),
                    mend: format!("let {} ask it before the gate", walk.id),
                });
            }
        }
    }
    flaws
}

/// Facts a condition can lack although they were never asked before step `end`.
fn lacking(knowledge: &Knowledge, walk: &Walk, when: &Condition, end: usize) -> Vec<FactId> {
    let asks: Vec<Asked<'_>> = walk
        .questions()
        .filter(|(at, _, _)| *at < end)
        .filter_map(|(_, q, step)| {
            knowledge.questions.get(q).map(|question| Asked {
                facts: question.facts(),
                question,
                when: step.when.as_ref(),
            })
        })
        .collect();
    let matters = |fact: FactId| !knowledge.vocabulary.is_soft(fact);
    // Only facts that may go unasked need the enumeration.
    let doubtful: Vec<FactId> = when
        .facts()
        .into_iter()
        .filter(|f| matters(*f) && !asks.iter().any(|a| a.always(*f)))
        .collect();
    if doubtful.is_empty() {
        return Vec::new();
    }
    let mut axes = when.facts();
    for fact in &doubtful {
        for asked in asks.iter().filter(|a| a.facts.contains(fact)) {
            for guard in asked.guards(*fact) {
                for f in guard.facts() {
                    if !axes.contains(&f) {
                        axes.push(f);
                    }
                }
            }
        }
    }
    let mut found = Vec::new();
    let mut sheet = Sheet::new(knowledge.vocabulary.len());
    enumerate(knowledge, &axes, &mut sheet, &mut |sheet| {
        // Answers that the walk would not have asked for are not there.
        let mut trial = sheet.clone();
        for fact in &doubtful {
            let asked = asks
                .iter()
                .filter(|a| a.facts.contains(fact))
                .any(|a| a.asks(*fact, sheet));
            if !asked {
                trial.clear(*fact);
            }
        }
        let soft = |fact| knowledge.vocabulary.is_soft(fact);
        when.each_undecided(View::of(&trial), &soft, &mut |fact| {
            if doubtful.contains(&fact) && !trial.answered(fact) && !found.contains(&fact) {
                found.push(fact);
            }
        });
    });
    found
}

struct Asked<'a> {
    facts: Vec<FactId>,
    question: &'a crate::facts::Question,
    when: Option<&'a Condition>,
}

impl<'a> Asked<'a> {
    fn guards(&self, fact: FactId) -> impl Iterator<Item = &'a Condition> {
        self.when
            .into_iter()
            .chain(self.question.part_condition(fact))
    }

    fn always(&self, fact: FactId) -> bool {
        self.facts.contains(&fact)
            && self.when.is_none()
            && self.question.part_condition(fact).is_none()
            && !self.question.is_optional(fact)
    }

    fn asks(&self, fact: FactId, sheet: &Sheet) -> bool {
        !self.question.is_optional(fact)
            && self
                .guards(fact)
                .all(|g| g.test(View::of(sheet)) != Truth::No)
    }
}

/// Every value of a fact that some rule can tell apart, "not sure" included.
#[must_use]
pub fn cells(knowledge: &Knowledge, fact: FactId) -> Vec<Value> {
    let mut values = vec![Value::NotSure];
    match &knowledge.vocabulary.get(fact).kind {
        Kind::Choice(choices) => values.extend(
            (0..choices.len())
                .filter_map(|c| u8::try_from(c).ok())
                .map(Value::Choice),
        ),
        Kind::Several { rows, .. } => {
            values.push(Value::Several { yes: 0, unknown: 0 });
            values.extend((0..rows.len().min(63)).map(|r| Value::Several {
                yes: 1 << r,
                unknown: 0,
            }));
        }
        Kind::Number(range) => {
            let mut edges = vec![range.min];
            edges.extend(&range.bins);
            edges.push(range.max);
            for pair in edges.windows(2) {
                if let [from, below] = pair {
                    values.push(Value::Number(Interval::spanning(*from, *below)));
                    // A rule with ">" tells the cut itself from what lies above it.
                    values.push(Value::Number(Interval::spanning(from.next_up(), *below)));
                }
            }
        }
        Kind::Grade | Kind::Rate | Kind::Amount => {}
    }
    values
}

fn enumerate(
    knowledge: &Knowledge,
    axes: &[FactId],
    sheet: &mut Sheet,
    visit: &mut dyn FnMut(&Sheet),
) {
    let Some((fact, rest)) = axes.split_first() else {
        visit(sheet);
        return;
    };
    for value in cells(knowledge, *fact) {
        sheet.set(*fact, value, Origin::Asked);
        enumerate(knowledge, rest, sheet, visit);
    }
    sheet.clear(*fact);
}

/// The number of questions stays within the walk's limits.
fn limits(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    let empty = Sheet::new(knowledge.vocabulary.len());
    let mut check = |sheet: &Sheet, limit: usize, with: &str| {
        let longest = count_at_most(knowledge, walk, sheet, &|_| true);
        if longest > limit {
            flaws.push(Flaw {
                about: walk.id.clone(),
                what: format!("asks up to {longest} questions{with}; the limit is {limit}"),
                mend: "put facts together in one question, or take a question out".into(),
            });
        }
    };
    let Some(three) = walk.limit_three_symptoms else {
        check(&empty, walk.limit, "");
        return flaws;
    };
    // The several fact that guards the follow-up questions; its rows are the symptoms.
    let symptoms = walk
        .questions()
        .filter_map(|(_, _, step)| step.when.as_ref())
        .flat_map(Condition::facts)
        .find(|f| matches!(knowledge.vocabulary.get(*f).kind, Kind::Several { .. }));
    let Some(symptoms) = symptoms else {
        check(&empty, walk.limit, "");
        return flaws;
    };
    let rows = knowledge.vocabulary.get(symptoms).choices().len().min(63);
    let mut trial = empty;
    for a in 0..rows {
        for b in a..rows {
            for c in b..rows {
                let yes = 1_u64 << a | 1 << b | 1 << c;
                trial.set(symptoms, Value::Several { yes, unknown: 0 }, Origin::Asked);
                let (limit, with) = match yes.count_ones() {
                    1 => (walk.limit, " for one symptom"),
                    _ => (three, " for three symptoms"),
                };
                check(&trial, limit, with);
            }
        }
    }
    flaws.dedup();
    flaws
}

fn gate_word(gate: Gate) -> &'static str {
    match gate {
        Gate::Tree => "tree",
        Gate::Dose => "dose",
    }
}
