//! Findings: their needs and evidence become conditions.

use super::Linker;
use crate::knowledge::problem::Problems;
use crate::knowledge::raw::{FindingsFile, RawEvidence};
use crate::knowledge::{BothSides, Evidence, File, Finding, FindingWords};

impl Linker<'_> {
    pub(super) fn findings(
        &self,
        files: Vec<(&File, FindingsFile)>,
        problems: &mut Problems,
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        for (file, list) in files {
            for raw in list.findings {
                let mut evidence = |list: Vec<RawEvidence>| -> Vec<Evidence> {
                    list.into_iter()
                        .filter_map(|e| {
                            Some(Evidence {
                                when: self.condition(&file.name, &raw.id, &e.r#if, problems)?,
                                weight: e.r#as,
                                says: e.says,
                            })
                        })
                        .collect()
                };
                let evidence = BothSides {
                    fits: evidence(raw.fits),
                    against: evidence(raw.against),
                };
                let Some(needs) = self.condition(&file.name, &raw.id, &raw.needs, problems) else {
                    continue;
                };
                findings.push(Finding {
                    id: raw.id,
                    name: raw.name,
                    shows: raw.shows,
                    needs,
                    evidence: evidence.into(),
                    feed: raw.feed,
                    lacks: raw.lacks,
                    words: FindingWords {
                        what: raw.what,
                        confirm: raw.confirm,
                        today: raw.today,
                        do_not: raw.do_not,
                        first: raw.first,
                        lookalikes: raw.lookalikes,
                        after: raw.after,
                        refer: raw.refer,
                    }
                    .into(),
                    notifiable: raw.notifiable,
                    sources: raw.sources,
                    file: file.name.clone().into(),
                });
            }
        }
        findings
    }
}
