# The page for the owner. Sentences stay short; what a reader cannot be expected to know is a term of the glossary.

owner-kind = For the owner
owner-rules-used = Rules used
owner-looked-at-on = Looked at on
owner-looked-at-by = Looked at by

owner-found = What was found
owner-why = Why it matters
owner-next = What to do next
owner-cost = What it may cost
owner-not-seen = What was not seen
owner-questions = Questions to ask a contractor

answer-met = What was checked meets the rules
    .meaning = Each thing that was checked is what these rules ask for, or better. That says nothing of what the rules leave out. Nobody can promise how a house will do in an earthquake.
answer-not-met = Parts of this house fall short of the rules
    .meaning = At least one thing that the rules ask for is missing or too little. The list below tells what and where.
answer-not-determined = Too little was seen to give an answer
    .meaning = What nobody has seen decides the answer here. Until someone looks, take the worst case as possible.
answer-outside = These rules do not cover a house like this
    .meaning = The rules were not made for a house like this one. A licensed engineer or architect has to plan the work. What was found is listed below.
answer-not-applicable = The rules ask for nothing here
    .meaning = These rules ask for nothing in what was written down. That says nothing of the rest of the house.
answer-range = At best, the answer is "{ $best }". At worst, it is "{ $worst }".

ruling-met = meets the rules
ruling-not-met = falls short
ruling-not-determined = not known
ruling-outside = needs an engineer
ruling-not-applicable = nothing asked

owner-comparison-only = Do not act on this page. The rules used here are only for comparison and were not made for older houses.
owner-confirm = Some limits used here were not seen in the rules themselves. Have the building department confirm them before you act.
owner-sides-short = { $some ->
    [one] { $some } of { $all } sides falls short.
   *[other] { $some } of { $all } sides fall short.
}
owner-sides-open = { $some ->
    [one] { $some } of { $all } sides could not be judged.
   *[other] { $some } of { $all } sides could not be judged.
}
owner-sides-outside = { $some ->
    [one] { $some } of { $all } sides needs an engineer.
   *[other] { $some } of { $all } sides need an engineer.
}

picture-title = Sketch of your house from above
picture-caption = Your house from above. Each number is one side.
picture-north = North is up.
picture-without-place = Where each side lies was not written down, so some are drawn one below the other.

owner-weak-places = What falls short, and where
owner-nothing-short = In what could be judged, nothing falls short.
owner-some-unknown = Some things could not be judged. They are listed under "{ owner-not-seen }".
owner-also-noted = These things were noted too. They have no part in the answer.
noted-fault = The house stands in a mapped zone where the ground may break in an earthquake.
noted-liquefaction = The house stands in a mapped zone where wet ground may turn soft in an earthquake.
noted-landslide = The house stands in a mapped zone where the ground may slide.
noted-chimney = A brick or stone chimney shows no ties to the house. It can fall.
noted-distress = There are signs of wear, such as cracks or slopes. Have someone look at the cause.

where-house = The house as a whole
where-every-side = Every side
amount-found-and-asked = Found: { $found }. Asked for: { $asked }.
amount-at-least = at least { $amount }
amount-at-most = at most { $amount }
amount-less-than = less than { $amount }
amount-between = { $least } to { $most }
amount-share = { $share } of { $length }
amount-out-of = { $some } of { $all }
amount-stories = { $count ->
    [one] { $count } story
   *[other] { $count } stories
}

owner-why-nothing = Nothing that was checked falls short, so there is no weak place to explain.
owner-why-unknown = What was not seen may still be a weak place. An earthquake pushes the house sideways, and each link from floor to foundation has to hold.

next-look = Have someone look at these first. They would tell the most.
next-look-more = More is listed on the engineer's page.
next-do = This is the work that would mend what falls short.
next-engineer = Call a licensed engineer. Part of this house is more than these rules cover.
next-papers = Keep this page with the papers of the house.
next-steps = Take these steps.
next-department = Ask the building department which rules apply to your house, and if you need a permit.
next-bids = Get at least two bids, and give each bidder the same page with the plan of the work.
next-crawl = Do not go under the house alone, and stay out after an earthquake until it has been checked.

cost-range = { $low } to { $high }
cost-likely = A likely figure is { $likely }.
cost-is-rough = This is a rough range and no offer. Real bids may lie outside it.
cost-placeholders = Some of these prices are placeholders. They are guesses that stand in until you have bids.
cost-years = The prices come from these years: { $years }.
cost-left-out = Permits, an engineer, and damage that nobody has seen yet are not in it.
cost-partly = Part of the work could not be planned from these rules. It is not in this cost, and may be the larger part.
cost-none-possible = No cost can be given. The work could not be planned from these rules, or too little was seen to plan it.
cost-no-work = These rules call for no new work on what was seen, so there is no cost to show.
cost-taken-as-given = To plan the work, some things that nobody saw were taken as given. Have them checked before you order.

access-entered = Someone went into the crawl space.
access-partly = Someone went into part of the crawl space. Nothing is said about the rest.
access-head-and-shoulders = Someone looked into the crawl space from its opening but did not go in.
access-none = Nobody went into the crawl space.
access-unknown = It was not written down if anyone went into the crawl space.
not-seen-nothing = Each check had what it needed.
not-seen-checks = These things could not be judged, because nobody saw them.
not-seen-figures = Some checks are open because the limit itself was not seen in the rules.
not-seen-stretches = Parts of these sides could not be seen at all.
not-seen-rest = This page says nothing about the upper floors, the roof, the ground, or anything else these rules leave out.

questions-if-work = If you have work done, ask these.
question-license = Do you have a license and insurance for this work?
question-houses = Have you done this work on other houses like mine? Can I talk to the owners?
question-permit = Will you get the permit? Who will meet the inspector?
question-plan = Which rules will you follow? Can I see a plan with each new piece on it?
question-look-first = What will you look at before you name a price?
question-bolts = What kind of bolts will you use? How deep do they go, and who checks them?
question-panels = Where does each panel go? How will it be nailed?
question-floor = How will you tie the floor to the wall below?
question-foundation = Will the old foundation hold the new bolts? How will you find out?
question-vents = Will there still be enough vents when you are done?
question-engineer = Will a licensed engineer plan the part that these rules do not cover?
question-hidden = What happens to the price if you find rot or bad concrete?
question-left-out = What is not in your price?
question-photos = Will you give me photos of the work before it is covered up?

owner-about = About this page
deferral = This page compares what was seen under one house with one set of printed rules. It is not a plan, a permit, or the word of an engineer. The building department decides which rules apply. A licensed engineer decides where the rules end.
written-by = Written by retrofit { $version }. Fingerprint of the house file: { $fingerprint }.
