# The sheet for somebody who sorts many houses: trade terms, one line for each thing.

assessor-kind = For the assessor
assessor-summary = In short
assessor-sides = Side by side
assessor-open = What is unknown
assessor-next = What to look at next
assessor-not-seen = What was not seen

tier = Tier
tier-outside = Engineer's design: the prescriptive provisions do not reach
tier-not-met = Strengthening: something is missing or too little
tier-not-determined = Second look: what nobody saw decides
tier-met = Nothing short in what was checked
tier-not-applicable = No rule applies to what was recorded

assessor-verdict = Verdict
assessor-to-confirm = { $ruling }; rests on figures that were not seen in their document
assessor-range = Best and worst case
assessor-best-to-worst = { $best } / { $worst }
assessor-governing = Governing shortfall
assessor-none = none
assessor-evidence = How much was seen
evidence-most = Most of it
evidence-some = Some of it
evidence-little = Little of it
assessor-evidence-counts = { $grade }: of { $all } findings, { $witnessed } rest on what was measured or seen, { $told } on what was said or concluded, { $unsaid } on a list as a whole; { $open } are open. The grades are a convention of this sheet.
assessor-lines = Sides
assessor-lines-counts = { $outside } outside, { $short } short, { $open } open, { $met } met
assessor-cost = Rough cost
assessor-cost-partly = { $cost }, without the parts that have no layout
assessor-cost-placeholders = { $cost }; some prices are placeholders
assessor-cost-none = none: no layout
assessor-cost-no-work = none: no work called for
assessor-built = Year built
assessor-stories = Stories
assessor-access = Crawl space

column-side = Side
column-verdict = Verdict
column-governing = Governing shortfall
column-found = Found and asked for
column-others = Findings short
column-open = Open

assessor-nothing-open = No finding was left open for want of an observation.
assessor-figures-open = Some findings are open because the figure itself was not seen in its document.
assessor-look-decides = { $count ->
    [one] Has a part in { $count } open finding.
   *[other] Has a part in { $count } open findings.
}
assessor-nothing-next = No single observation would narrow this.
