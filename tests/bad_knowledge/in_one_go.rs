//! Several problems at once: all are told, in order, and none that only follows from another.

use tubgrove::knowledge::{Files, ProblemKind, load};

#[test]
fn all_problems_come_in_one_go_and_in_order() {
    let mut files = Files::shipped();
    for (name, from, to) in [
        (
            "cautions.yaml",
            "when: mix_moisture is dry\n",
            "when: mix_moistur is dry\n",
        ),
        (
            "rates.yaml",
            "{id: large_pot, value: 40,",
            "{id: large_pot, value: -40,",
        ),
        ("walks/rescue.yaml", "ask: look_now", "ask: look_nwo"),
    ] {
        let file = files.files.iter_mut().find(|f| f.name == name).unwrap();
        assert!(file.text.contains(from));
        file.text = file.text.replacen(from, to, 1).into();
    }
    let problems = load(&files, &[]).unwrap_err();
    let files: Vec<&str> = problems.list().iter().map(|p| p.file.as_str()).collect();
    assert_eq!(files, ["cautions.yaml", "rates.yaml", "walks/rescue.yaml"]);
}

/// Problems of many kinds in many files come in one go, each once, and none that only follows from another.
#[test]
fn all_problems_come_in_one_go() {
    let mut files = Files::shipped();
    let changes = [
        (
            "findings/leaves.yaml",
            "  - id: salt_burn\n",
            "  - id: salt_burns\n",
        ),
        (
            "findings/roots.yaml",
            "needs: symptoms has root_rot_signs or",
            "needs: symptom has root_rot_signs or",
        ),
        (
            "rates.yaml",
            "{id: flush_wait, value: 14,",
            "{id: flush_wait, value: .inf,",
        ),
        (
            "sources.yaml",
            "sources:\n",
            "sources:\n  - {id: idle, who: A, title: B, year: 2000, where: C, read: first_hand}\n",
        ),
        ("walks/diagnose.yaml", "  - gate: dose\n", ""),
        (
            "walks/precheck.yaml",
            "  - end: fed\n",
            "  - end: fed\n  - ask: symptoms\n",
        ),
    ];
    for (name, from, to) in changes {
        let file = files.files.iter_mut().find(|f| f.name == name).unwrap();
        assert_eq!(file.text.matches(from).count(), 1, "{name}: {from}");
        file.text = file.text.replacen(from, to, 1).into();
    }
    let problems = load(&files, &[]).unwrap_err();
    let mut found: Vec<(String, ProblemKind)> = problems
        .list()
        .iter()
        // Every entry that names the misspelt finding as a look-alike has a problem of its own.
        .filter(|p| !p.what.contains("salt_burn"))
        .map(|p| (p.file.clone(), p.kind))
        .collect();
    found.dedup();
    let expected = [
        ("findings/roots.yaml", ProblemKind::UnknownId),
        ("rates.yaml", ProblemKind::NotFinite),
        ("sources.yaml", ProblemKind::UnusedSource),
        ("walks/diagnose.yaml", ProblemKind::UngatedDose),
        ("walks/precheck.yaml", ProblemKind::Unreachable),
    ];
    let expected: Vec<(String, ProblemKind)> =
        expected.map(|(file, kind)| (file.to_owned(), kind)).into();
    assert_eq!(found, expected, "{problems}");
    // A look-alike is marked in the entry that names it, whoever else is named by that entry's id.
    for problem in problems
        .list()
        .iter()
        .filter(|p| p.what.contains("look-alike"))
    {
        assert!(problem.text.contains("of: salt_burn"), "{problem}");
    }
    assert!(
        problems
            .list()
            .iter()
            .any(|p| p.what.contains("look-alike"))
    );
}
