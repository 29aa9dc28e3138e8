### Every sentence that people read, in the trade's plain English.
### The name of a message is the kind of a fact; its variables are the fact's values, which
### arrive said in the event's units and time zone.  Counts arrive as numbers.

## Small words
list-end = { $before } and { $last }
over-99-percent = over 99 %
under-1-percent = under 1 %

plain = { $text }
mark-between-fixes = where the log was at that time, between two fixes
mark-in-a-pause = the log pauses for { $pause } around this mark: its place is on a straight line between the fixes
mark-without-log = the mark is to come from the log, and there is no log
mark-outside-log = the log does not cover the time of the mark
task-cancelled = the task is cancelled
not-brought-up = { $seen } Not brought up: less likely than { $least }.
at-once = { $worse } At the same time: { $other }
report-and-log = { $report } The log: { $other }
report-and-report = { $report } Also: { $other }
no-finite-number = the entries give no finite number: check the coordinates
outside-limits-open = { $reason }. The task does not say what that costs, so it counts until an official decides.

## Where marks lie
no-mark-found = no mark was found
term-distance-grid = on the map grid
term-distance-ellipsoid = at sea level
term-distance-ground = on the ground
term-left = left
term-right = right
taped = taped { $length } from { $start }
measured = measured { $length } from { $start }
bearing-from-grid-north = bearing { $bearing } from grid north
bearing-from-magnetic-north = bearing { $magnetic } from magnetic north, declination { $declination }: { $true } from true north
bearing-from-true-north = bearing { $true } from true north, turned by { $turn }: { $grid } from grid north
arcs-cut = the two points lie { $base } apart; the lines from them meet at { $angle }, { $side } of the line between them
offset-from-line = { $along } along the line from { $start } to { $end }, { $across } square to its { $side }
length-on-the-grid = { $length } { $surface } is { $grid } on the map grid
coordinates-in = coordinates of the map grid { $system }
latitude-longitude = latitude { $lat }, longitude { $lon } (WGS84)
grid-coordinates = east { $east } m, north { $north } m
grid-metres = { $metres } m
mark-at = the mark lies at { $at }
mark-from-target = { $length } from { $target }, measured { $surface }
mark-from-target-at-height = { $length } from { $target }, measured { $surface } at { $ground } above sea level

bearing-without-declination = The bearing counts from magnetic north, and the event gives no declination. The distance counts; where the mark lies stays open. Give the event's declination, or the bearing from grid or true north.
arcs-miss-each-other = The two distances miss each other by { $gap }, no more than a tape may err. The mark is put on the line through both points.
arcs-cut-badly = The two lines meet at { $angle } and fix the point badly. Measure again from points whose lines meet between { $least } and { $most }.

observed-by = { $what }, entered by { $by }
observed-distance = distance from { $start }
observed-bearing = bearing from { $start }
observed-east = east
observed-north = north
observed-residual = { $what }: { $value }, off by { $residual } (uncertainty { $sigma })
adjusted = all measurements adjusted by least squares, { $spare } more than needed; they miss by { $misfit } of what their uncertainties promise
adjusted-without-spare = all measurements adjusted by least squares, none more than needed
worst-observation = fits worst: { $what }, by { $times } of its own uncertainty
error-ellipse = uncertainty { $major } × { $minor }, its long axis towards { $axis }
survey-contradicts-itself = The measurements contradict each other: by chance alone in { $chance } of cases. Which one is at fault cannot be told from so few. Measure again.
survey-contradicted-by = The measurements contradict each other: by chance alone in { $chance } of cases. What fits worst: { $what }. Measure again.

measurements-fix-no-point = these measurements fix no point: give two distances, a distance and a bearing, two bearings, or coordinates
no-point-fits = no point fits these measurements: measure again, or leave out the one that contradicts the others
two-points-fit = two points { $apart } apart fit these distances alike: say on which side of the line the mark lies, or measure from a third point
observation-unusable = a measurement has no value, no uncertainty or no point it starts from: { $what }
arcs-from-one-point = { $first } and { $second } are the same point: two distances from it fix no mark
arcs-too-short = { $first } and { $second } lie { $base } apart, measured were { $one } and { $other }: together too short by { $gap }. Measure again, or check the points and the unit
arcs-too-long = { $first } and { $second } lie { $base } apart, measured were { $one } and { $other }: one is too long for the other by { $gap }. Measure again, or check the points and the unit
entry-measures-no-point = the entry measures no point

term-entry-distance = the distance
term-entry-bearing = the bearing
term-entry-from = the point it is measured from
term-entry-distance2 = the second distance
term-entry-from2 = the second point
term-entry-side = the side of the line
term-entry-easting = the easting
term-entry-northing = the northing
term-entry-lat = the latitude
term-entry-lon = the longitude
entry-needs-tape = the entry lacks { $lacks }: a taped mark needs its distance, and where that does not start at the target the bearing too
entry-needs-polar = the entry lacks { $lacks }: it needs a distance and a bearing, and the point they start from
entry-needs-arcs = the entry lacks { $lacks }: it needs two distances, the two points they start from, and the side of the line between them
entry-needs-offset = the entry lacks { $lacks }: it needs the distance along the line, the distance square to it, the two points of the line, and the side
entry-needs-grid = the entry lacks { $lacks }: it needs easting and northing
entry-needs-latlon = the entry lacks { $lacks }: it needs latitude and longitude
entry-without-distance = the entry has no usable distance
no-such-point = "{ $name }" is no point of the event
no-such-area = "{ $name }" is no area of the event
declination-missing = a direction counts from magnetic north, and the event gives no declination

latitude-beyond-90 = a latitude beyond 90°
system-cannot-show-point = the map grid { $system } cannot show this point
no-point-so-far = no point lies { $length } at { $bearing } from east { $east } m, north { $north } m on the map grid { $system }
pressure-beyond-the-atmosphere = a pressure outside the standard atmosphere, which is given from −5 to 20 km
height-beyond-the-atmosphere = a height outside the standard atmosphere, which is given from −5 to 20 km
no-one-flight = times { $apart } apart are no one flight
no-place-on-earth = no place on Earth: latitude { $lat }, longitude { $lon }
fault-in-words = { $text }
faults = { $faults }
unreadable = found "{ $found }"; allowed: { $allowed }

## The ground of the event
and-more = { $more } more
datums-apart = The map grid { $system } and satellite receivers (WGS84) may disagree by up to { $most }: coordinates from one fit the other no better. Distances hold.
datums-apart-by-an-unknown-amount = The map grid { $system } and satellite receivers (WGS84) may disagree by an unknown amount: coordinates from one may not fit the other. Distances hold.
outside-the-systems-area = Outside the area that the map grid { $system } is made for: { $places }. Distances hold, coordinates may surprise.
no-elevation = The event has neither terrain nor an elevation of the ground. Distances on the ground are taken at sea level: at { $up } that is { $short } too short in { $way }. Give one of the two.
terrain-does-not-cover = The terrain does not cover all of { $places }.
terrain-elsewhere = { $terrain } lies at { $grid } where the event says { $written }. Check the unit of both, and that it is the right terrain.
terrain-in-feet = { $terrain } lies at { $grid } where the event says { $written }, as if the terrain were in feet. Check the unit of both, and that it is the right terrain.
terrain-above-the-ellipsoid = { $terrain } gives heights above the ellipsoid, which differ from mean sea level by tens of metres. Heights above the ground do not suffer.
terrain-on-a-map-in-feet = { $terrain } lies on a map in feet and does not say in what its heights are. They are taken as metres.
terrain-without-system = { $terrain } names no reference system. It is taken as { $system }.
terrain-scaled = The heights in { $terrain } are put into metres, times { $factor }.
terrain-cells-empty = { $cells ->
    [one] 1 cell
   *[other] { $cells } cells
  } of { $terrain } hold no possible elevation and are left empty.


## Rules and penalties
rule-cited = { $rule }: { $value } ({ $source }, { $certainty })
rule-by-default = { $rule }: our choice, the event says nothing else
rule-prohibited = { $place } is prohibited; { $tolerance }
rule-of-task = { $what }, set for the task
term-task-launch-period = launch period
term-task-scoring-period = scoring period
all-of = { $parts }
rule-in-words = { $text }
term-certainty-confirmed = read in a published text
term-certainty-one-source = one source or an old edition
term-certainty-memory = from memory
term-certainty-practice = common practice, no source
term-certainty-event = set by the event
term-certainty-choice = our choice
amount-task-points = { $points ->
    [one] 1 task point
   *[other] { $points } task points
  }
amount-event-points = { $points ->
    [one] 1 competition point
   *[other] { $points } competition points
  }
amount-metres = { $length } of result
amount-no-result = no result
amount-disqualified = disqualified
penalty-figures = { $parts } = { $amount }
penalty-figures-capped = { $parts }, at most { $most } = { $amount }
penalty-base = { $amount }
penalty-per = { $units } { $of } × { $each }
penalty-step = { $amount }
term-unit-m = m
term-unit-ft = ft
term-unit-km = km
term-unit-mi = mi
term-unit-s = s
term-unit-min = min
term-unit-h = h

## Points
points-none = this event gives no points: places go by result
points-best = best result: { $points } points
points-of-place = points of place { $rank }: { $points }
points-of-places = mean points of places { $first } to { $last }: { $points }
points-by-result = place { $rank }, before the median place { $median }: 1,000 − (1,000 − { $median_points }) × ({ $result } − { $best }) ÷ ({ $at_median } − { $best }) = { $points } points
points-by-rank = place { $rank }, from the median place { $median } on: 1,000 × ({ $entered } + 1 − { $rank }) ÷ { $entered } = { $points } points
points-without-result = no result: no points
points-nobody = nobody has a result: { $points } points each
points-shared = no result: half of 1,000 × ({ $entered } + 1 − { $scorers }) ÷ { $entered } = { $points } points
points-at-least = { $how }; everybody who flew has at least { $least }

## From results to scores
nothing-known = no mark, no log and no report: taken as not flown
reported-not-flown = did not fly, reported by { $by }
not-accounted-for = Not accounted for: { $pilots }. No mark, no log, no report: did they fly?
not-flown-but-evidence = Reported by { $by } as not flown, but there is a mark or a flight log.
no-log = No flight log: heights, launch and times are not checked. Ask the pilot for it, or give the pilot a log that is left over.
no-log-many = { $pilots } pilots without a flight log: their heights, launches and times are not checked.
did-not-fly = did not fly
by-infringement = { $what }
for-infringement = for { $what }
penalty-imposed = added by an official
disqualified-because = disqualified: { $cause }, { $ruling }
no-result-because = no result: { $cause }, { $ruling }
ruled = { $parts }
term-ruling-unruled = not yet decided
term-ruling-apply = confirmed
term-ruling-waive = waived
term-ruling-set = another amount
term-ruling-impose = added
by-whom = by { $who }
at-when = { $when }
because = because: { $why }
step-group-b = flew, no result: { $why }
step-group-c = did not fly: { $why }
step-result = result: { $measured }, rounded { $result }
step-result-more = result: { $measured } + { $penalty } penalty, rounded { $result }
step-result-less = result: { $measured } − { $penalty } penalty, rounded { $result }
penalty-left-out = a penalty of { $penalty } cannot enter a result that is no length: left out
points-did-not-fly = did not fly, or is disqualified: no points
step-score = score: { $score }
step-score-less = score: { $points } − { $penalty } = { $score }
step-score-not-under-0 = score: { $points } − { $penalty }, not under 0: { $score }
step-competition-points = { $points ->
    [one] 1 competition point comes off the total
   *[other] { $points } competition points come off the total
  }
step-cancelled = the task is cancelled: it does not count
step-penalty = penalty: { $amount } { $cause } ({ $ruling })
step-penalty-not-counted = penalty, not counted: { $amount } { $cause } ({ $ruling })

## Decisions
not-charged-yet = not charged unless an official decides so
no-penalty-set = the event sets no penalty for it
charged-for-now = counted for now: { $costs }
ruling-meets-nothing = The decision "{ $decision }" on { $finding } fits nothing that was found for this pilot in this task. Decide again, or add a penalty of its own.
rulings-now-on-one = { $earlier } and { $last } were made on two infringements that are one now: decide again.
ruling-costs-nothing = { $ruling } costs nothing, since there is no penalty to confirm. Set an amount, waive it, or revert the decision. { $seen }
ruling-on-another-value = { $ruling } was made when the log showed { $was }; it shows { $now } now: decide again. { $seen }
ruling-replaced = { $earlier } no longer counts: { $last } was decided after it.

term-finding-floor = flying under the minimum height
term-finding-ground-contact = ground contact
term-finding-launch-distance = launch place
term-finding-launch-period = launch time
term-finding-launch-area = launch area
term-finding-scoring-period = time of the mark
term-finding-airspace = prohibited airspace
term-finding-boundary = leaving the boundary
term-finding-night = flying at night
term-finding-late-declaration = late declaration

undecided-floor = { $seen } { $now }.
undecided-floor-many = { $pilots } pilots flew under the minimum height: not yet decided.
undecided-ground-contact = { $seen } { $now }.
undecided-ground-contact-many = { $pilots } pilots touched the ground: not yet decided.
undecided-launch-distance = { $seen } { $now }.
undecided-launch-distance-many = { $pilots } pilots launched from a place that is not allowed: not yet decided.
undecided-launch-period = { $seen } { $now }.
undecided-launch-period-many = { $pilots } pilots launched outside the launch period: not yet decided.
undecided-launch-area = { $seen } { $now }.
undecided-launch-area-many = { $pilots } pilots launched outside the launch area: not yet decided.
undecided-scoring-period = { $seen } { $now }.
undecided-scoring-period-many = { $pilots } pilots dropped outside the scoring period: not yet decided.
undecided-airspace = { $seen } { $now }.
undecided-airspace-many = { $pilots } pilots flew in prohibited airspace: not yet decided.
undecided-boundary = { $seen } { $now }.
undecided-boundary-many = { $pilots } pilots left the boundary: not yet decided.
undecided-night = { $seen } { $now }.
undecided-night-many = { $pilots } pilots flew at night: not yet decided.
undecided-late-declaration = { $seen } { $now }.
undecided-late-declaration-many = { $pilots } pilots declared late: not yet decided.

## Rules by name
rule-floor-height = minimum height above the ground
rule-floor-within = where the minimum height holds
rule-floor-until = until when the minimum height holds
rule-floor-tolerance = tolerance of the minimum height
rule-floor-least-time = shortest time under the minimum height that counts
rule-floor-penalty = penalty for flying under the minimum height
rule-contact-within = where the ground may not be touched
rule-contact-until = until when the ground may not be touched
rule-contact-penalty = penalty for touching the ground
rule-launch-least-distance = least distance of the launch from the target
rule-launch-most-distance = greatest distance of the launch from the target
rule-launch-area = launch area that must be used
rule-launch-retry = which launch counts where a pilot landed and launched again
rule-launch-penalty = penalty for a wrong launch place
rule-launch-period-penalty = penalty for launching outside the launch period
rule-scoring-penalty = penalty for a mark outside the scoring period
rule-findings-least-probability = how likely an infringement must be to be brought up
rule-airspace-tolerance = tolerance of prohibited airspace
rule-airspace-penalty = penalty for entering prohibited airspace
rule-boundary-within = boundary to stay within
rule-boundary-penalty = penalty for leaving the boundary
rule-night-before-sunrise = earliest launch before sunrise
rule-night-after-sunset = latest landing after sunset
rule-night-penalty = penalty for flying at night
rule-declarations-radius = how near a goal must be to declared coordinates
rule-declarations-several = which goal counts where several are meant
rule-declarations-least-distance = least distance of a declared goal
rule-declarations-late-penalty = penalty for a late declaration
rule-tracks-dimensions = whether distances along a track count height
rule-tracks-throw = how far a marker may be thrown
rule-tracks-log-gap = pause of a flight log that people must know of
rule-points-method = points formula
rule-points-ties = points of equal results
rule-points-no-result = points of those who flew without a result
rule-points-show-up = least points of everybody who flew
rule-points-places = points of each place
rule-results-decimals = decimals of a result
rule-results-angle-decimals = decimals of an angle
rule-keying-tolerance = difference of two entries that is let pass
rule-keying-twice = whether every mark must be entered by two people
rule-standings-best-of = how many of the best tasks count
rule-standings-ties = how equal totals are parted
rule-standings-team-size = how many of the best pilots of a team count
rule-standings-team-column = column of the pilots' list that names the team
rule-standings-by-class = whether each class has its own standings
rule-publication-complaint-time = time for complaints after official results
rule-publication-protest-time = time for protests after the answer to a complaint

## Rules that the event has not answered
rule-unanswered = The event has not said: { $rule }. { $means } Answer it on the page Rules, or in the event's file (see the list of rules).
unanswered-penalty = Infringements of it wait for an amount set by an official.
unanswered-within = For now it holds everywhere.
unanswered-complaint-time = Until then nothing can become official.
unanswered-protest-time = Until then nothing can become final.
unanswered-ties = For now equal results share the better rank.
unanswered-other = For now it is not checked.
points-penalty-without-points = A penalty in points changes nothing, since this event gives no points. Charge metres of result, or no result, instead.
points-penalty-without-points-many = { $pilots } pilots have penalties in points, which change nothing, since this event gives no points. Charge metres of result, or no result, instead.
results-do-not-add-up = This event gives no points, and results of unlike tasks do not add up: there are no standings. Choose a points formula on the page Rules.
no-scoring-area = The minimum height holds until the scoring area, but the task has none: it is taken to hold until the landing, and nothing under it is certain. Give the task a scoring area, or no minimum height.
