# The sheets for the crew.

crew-kind = For the crew
crew-headline = Put in { $anchors ->
    [0] no anchors
    [one] one anchor
   *[other] { $anchors } anchors
}, { $panels ->
    [0] no braced panels
    [one] one braced panel
   *[other] { $panels } braced panels
} and { $clips ->
    [0] no framing clips
    [one] one framing clip
   *[other] { $clips } framing clips
}.
crew-nothing-anywhere = No work is laid out for this house by these rules.
crew-before = Before you go under
crew-before-stay-out = Stay out where there is standing water or sewage, a smell of gas, bare or damaged wiring, crumbling insulation that may hold asbestos, a sagging floor, or signs of animals.
crew-before-partner = Have someone outside who knows where you are. Know where the gas, water and power shut off before you drill or cut.
crew-before-permit = Start no work before the local code official has accepted the plan. What that office approved comes before these sheets.
crew-verify = Check on site before anything is cut or ordered
crew-verify-nothing = Nothing was taken as given. Measure again all the same where you are about to cut.
crew-verify-these = Nobody saw these. If one is not as the plan takes it, stop and call whoever drew it:
crew-carry = What to carry in
crew-how-many = How many
crew-of-what = Of what
crew-at-least = at least { $count }, count on site
crew-pounds = { $count } lb
crew-amount-unknown = not known, see the permit sheet
crew-tools = Tools: drill for concrete with a depth stop, brush and blow-out bulb, wrench, saw, tape, level, hammer or nailer set so that heads sit flush, lamp, respirator, gloves, knee and eye protection.
crew-item-adhesive-anchor = anchor set in adhesive
crew-item-expansion-anchor = expansion anchor
crew-item-screw-anchor = screw anchor
crew-item-side-plate = side plate
crew-item-joint-blocking = blocking behind level joints
crew-item-sill-block = block on the sill
crew-item-framing-clip = framing clip
crew-item-joist-block = block between joists, full depth
crew-item-end-joist = end joist
crew-item-top-plate = top plate
crew-item-plate-strap = strap across a break in the top plate
crew-item-solid-blocking = solid blocking
crew-diameter = { $length } diameter
crew-rod = { $length } long or longer
crew-rod-by-maker = length by the maker's instructions
crew-rod-after-measuring = length once the sill is measured
crew-washer = washer { $washer }
crew-adhesive = cartridge of adhesive, { $milliliters } ml
crew-sheet = sheet { $size }, { $make }
crew-make = { $make }, { $length } or thicker
crew-nails = { $nail } nails
crew-nails-by-rules = nails as the rules name them, see the permit sheet
crew-sill = new sill of preservative-treated wood, { $length } thick or more
crew-length = Wall line { $length } long. Measure everything from its left end, as you see it from the crawl space, facing the wall.
crew-length-unknown = Nobody measured how long this wall line is. Measure it first.
crew-anchors = anchors
crew-panels = braced panels
crew-floor = floor connection
crew-no-layout = No layout for: { $part }. Do not do this part. The permit sheet says why, and who decides.
crew-nothing = Nothing to add along this wall line by these rules, as far as was written down.
crew-framing = Sill and framing
crew-nail-top-plates = nail the two top plates together
crew-add-top-plate = add a top plate
crew-tie-splices = tie every break in the top plate with a strap; count the breaks on site
crew-solid-blocking = replace the short studs with solid blocking
crew-new-anchors = New anchors
crew-old-anchors = Old anchors to mend
crew-tighten = make the nut snug-tight
crew-embedment = { $length } into the concrete or deeper
crew-embedment-by-maker = Depth in the concrete by the maker's instructions
crew-edge = { $length } or more from the face of the foundation
crew-tight-drilling = Too low for a straight drill: take a right-angle drill
crew-vents = Vents to move
crew-vents-first = Cut the new opening first, then close the old one.
crew-vent-moved = move to { $from } – { $to }
crew-vent-closed = close it; no place is left for it along this wall line
crew-new-panels = New panels
crew-old-panels = Old panels to drill
crew-holes-in-old-panel = { $count ->
    [one] One hole
   *[other] { $count } holes
} of { $length }, at the top and bottom of each bay
crew-sill-blocks = { $count ->
    [one] one block on the sill
   *[other] { $count } blocks on the sill
}
crew-panel-size = { $length } long, { $height } high; foot: { $foot }
crew-edge-nailing = Nails { $length } apart along all edges
crew-field-nailing = Nails { $length } apart on the studs between
crew-vent-holes = A hole of { $length } at the top and bottom of each bay
crew-nails-per-block = { $count ->
    [one] One nail
   *[other] { $count } nails
} in each block on the sill
crew-nails-flush = Heads flush, never through the face; level joints over blocking
crew-end-joist = End joist
crew-end-joist-note = A continuous end joist over the whole wall line
crew-joist-blocks = Blocks between joists
crew-joist-blocks-note = Full depth of the joists; the stations are the middles of the blocks
crew-clips = Framing clips
crew-clips-note = With the nails that the maker names, every hole filled
crew-clip-spacing = { $length } apart
crew-cutting = Cutting list
crew-cutting-note = Each sheet with its pieces. The blade is allowed for. Mark each piece with its wall line before it goes under.
crew-cutting-nothing = Nothing is cut from sheets.
crew-cut-along = Along
crew-cut-across = Across
crew-cut-wall-line = Wall line
crew-cut-stations = Stations
crew-sheet-number = Sheet { $number }: { $size }, { $make }
crew-from-to = { $from } to { $to }
crew-order = Order of work, and where to stop
crew-order-note = The order is common practice. The inspections that the code official asks for come first.
crew-hold = Stop
crew-step-verify = Measure, and check what was taken as given.
crew-hold-verify = Order and cut nothing before whoever runs the job has seen it.
crew-step-sill = Replace sill pieces. Leave no part of the wall without support.
crew-step-framing = Mend top plates and short studs.
crew-step-vents = Cut new vent openings, then close the old ones.
crew-hold-vents = The new opening is there before the old one is closed.
crew-step-anchors = Drill, clean and set the anchors.
crew-hold-adhesive = Many code officials want to watch adhesive anchors being set. Ask first.
crew-step-blocks = Put in joist blocks and end joists.
crew-step-clips = Nail on the framing clips.
crew-step-panels = Nail on the blocks on the sill where a sheet asks for them. Drill the holes, then fit and nail the panels.
crew-step-cover = Leave everything in sight.
crew-hold-cover = Cover nothing before the inspector has seen anchors, blocks, panels, nails and clips.
crew-step-final = Clean up, and take the scraps of wood out.
crew-hold-final = Final inspection by the code official.
print-owner = For the owner
print-assessor = For the assessor
print-engineer = For the engineer
print-permit = For the plan checker
print-crew = For the crew
print-contents = Contents
print-about = Each part begins on a new sheet and can be handed out alone. All of them come from one result.
crew-about = What these sheets are
crew-about-is = They lay out work by one set of published rules, from what was written down about this house. They are no permit and no design by an engineer. Nobody saw everything: where the house differs, the house is right and work stops.
