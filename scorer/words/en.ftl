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

## Tasks
term-mark = the mark
term-launch = the launch
term-landing = the landing
term-drop = the drop of the mark
term-reported-landing = the reported landing
term-smallest = smallest
term-greatest = greatest
term-place-of-declaration = where it was declared
mark-of-role = mark { $role }
point-of-role = { $role } ({ $point })
track-at = the track at { $time }
goal-named = the goal { $goal }
from-to = { $start } to { $end }

task-measured = { $name }: { $about }; the { $best } is best
launch-unknown = where the balloon took off is not known: the log does not show it, and no mark of the launch is entered
launch-time-unknown = the time of the launch is not known
mark-not-found = { $mark }: not found
mark-not-entered = { $mark }: not entered
mark-missing-beside-others = Other marks of this pilot are entered, { $mark } is not. Enter it, or "no mark" if it was not found.
mark-without-numbers = the coordinates of { $mark } are no numbers: enter it again
mark-without-bearing = the place of { $point } is not known, since it was taped without a bearing: enter the bearing too, or the distance from the point this task counts from
mark-by-log = { $mark } by the log at { $time }
mark-beside-place = { $mark } is entered, but the task gives { $place } in its stead: the place counts
time-unknown = the time of { $point } is not known: enter it beside the measurement
time-from-track = No time is entered for { $point }. It is taken as { $time }, when the track passes nearest to it.

no-mark-entered = no mark is entered
several-marks = marks entered: { $marks }; { $how }
term-marks-least-advantageous = the one that is worst for the pilot counts
term-marks-most-advantageous = the one that is best for the pilot counts
term-marks-first = the first counts
term-marks-last = the last counts
term-marks-invalid = only one is allowed
too-many-marks = { $marks } marks, and the task allows one
marks-give-none = { $reasons }

leg = { $start } to { $end }: { $length }
leg-in-3d = { $start } to { $end }: { $flat } over the ground and { $rise } up, together { $slope }
height-unknown = the height of { $point } is not known, and distances count height here: give that place or the event an elevation
near-edge-inside = Whether { $point } is inside the area is not sure: it lies { $edge } inside its edge, nearer than its uncertainty. It counts as inside. Look at it.
near-edge-outside = Whether { $point } is outside the area is not sure: it lies { $edge } outside its edge, nearer than its uncertainty. It counts as outside. Look at it.
outside-area = { $point } is outside the scoring area { $area } by { $gap }
inside-area = { $point } is inside { $areas }
inside-area-by-tape = { $point } is inside { $area }, wherever it lies on the circle that was taped
inside-unknown = Whether { $point } is inside the scoring area is not known: it is taped without a bearing. It counts as inside. Enter the bearing.

nearest-target-unknown = Whether another target is nearer to { $point } is not known: it is taped from { $target } without a bearing. That target counts. Enter the bearing.
nearest-of = the nearest of { $targets }: { $length }
outside-radius = { $point } is { $away } away, outside the measuring radius of { $radius }
taped-outside-radius = Taped beyond the measuring radius: { $point } is { $away } away, the radius is { $radius }. It counts. Look whether it is entered right.
area-never-valid = the task does not say when { $areas } is valid
fell-outside-window = { $point } fell in { $areas } at { $time }, valid { $valid }
fell-within-window = { $point } fell in { $areas } at { $time }, valid { $valid }
time-near-window = The time of { $point } is too uncertain to say whether it fell while the area was valid. Look at the log.
hare-launch-unseen = No log shows whether the pilot flew to { $place } first.
nearest-to-hare-launch = nearest to { $place }: { $away } at { $time }
too-far-from-hare-launch = nearest to { $place }: { $away } at { $time }, farther than { $most }

leg-too-short = { $start } to { $end }: { $length }, at least { $least } is asked
leg-too-long = { $start } to { $end }: { $length }, at most { $most } is allowed
leg-near-limit = Too near the limit for its uncertainty: { $start } to { $end }, { $length }. Look at it.
fell-too-early = { $point } fell after { $after }, at least { $least } is asked
fell-too-late = { $point } fell after { $after }, at most { $most } is allowed
way-flown = way flown from the launch to { $point }: { $way }
way-too-short = { $point } fell after { $way } of way flown, at least { $least } is asked
way-unknown = the way flown is not known: no log shows it from the launch on
log-ends-before-mark = the way flown is not known: the log ends before the mark
time-elapsed = { $point }: { $end } − { $start } = { $elapsed }
fell-before-start = Check the times: { $point } fell before the time it counts from.
time-near-limit = Too near the limit of { $limit } for what the log can tell: { $point } fell after { $elapsed }. Look at it.
no-launch-period = time counts from the launch period, and the task has none
same-area = { $start } and { $end } lie in the same area

elbow-turned = the angle ABC is { $corner }: the flight turned by { $turn }
triangle = sides { $ab }, { $bc } and { $ac }: area { $area }
one-point = { $start } and { $end } are one point: no line between them
angle-to-direction = from { $start } to { $end } { $flown }, the set direction { $set } (from grid north): angle { $angle }
direction-on-the-grid = set direction { $set } from { $north }: { $grid } from grid north
term-north-true = true north
term-north-magnetic = magnetic north

launch-place-unknown = where the balloon took off is not known: name the launch place in the task, enter a mark of the launch, or give a log that shows it
landing-unknown = where the balloon landed is not known: enter the reported place, or give a log that shows it
landing-by-log = the landing by the log
landings-apart = The reported landing lies { $apart } from that of the log. The report counts. Look which is right.
landing-time-unknown = The time of the landing is not known. Enter it beside the report.
landed = landed at { $landed }, due by { $due }
landed-late = landed at { $landed }, due by { $due }
landing-of-stage = the landing of stage { $stage }
stage-without-landing = No landing is entered for stage { $stage } (mark { $stage }). The stage counts nothing.
no-stage-landed = no landing of any stage is entered
stages-together = { $flown } of { $stages } stages together: { $total }
great-distance = from { $start } ({ $start_at }) to { $end } ({ $end_at }): { $distance } along the Earth's surface

reached-before-start = the area was reached { $early } before the start: check the times
race-time = { $end } − { $start } = { $seconds } s
race-without-area = the race ends with a mark, and the task names no scoring area for it
launch-not-in-log = the log does not show the launch
no-log-to-measure = no log, and this task is measured on the track
log-begins-after-start = The log begins at { $time }, after the start.
area-not-entered = the track does not enter the area after the start
inside-at-start = already inside the area at the start, { $time }
area-entered = the track enters the area at { $time }
way-inside = inside from { $start } to { $end }: { $way }
no-way-inside = the track has no way inside the airspace of the task
ways-together = { $stays } stays together: { $total } { $surface }
term-along-the-slope = along the slope
term-over-the-ground = over the ground
way-counts-between = counted from { $start } to { $end }
log-pauses = The log pauses for { $pause } at { $time }. A straight line counts there.

logger-mark = logger mark "{ $name }"
log-without-marks = the log holds no mark: enter a time instead
logger-marks-several = the log holds { $marks } marks to choose from ({ $labels }): name one of them in the note of the entry, or enter its time
logger-marks-alike = the log holds { $marks } marks called "{ $name }" (it has { $labels }): name one of them in the note of the entry, or enter its time
logger-mark-unknown = the log holds no mark called "{ $name }" (it has { $labels }): name one of them in the note of the entry, or enter its time

## Declared goals
goal-not-valid = Declared goal "{ $goal }" is not valid: { $why }.
no-valid-goal = no valid declared goal
no-goal-declared = no goal declared
goals-that-count = { $declared } goals declared, at most { $most } allowed: { $which }
term-goals-first = the first count
term-goals-last = the last count
too-many-goals = { $declared } goals declared, at most { $most } allowed: say in the task whether the first or the last count, or strike the others
goal-empty = it names no goal and gives no coordinates
goal-must-be-coordinates = this task wants coordinates, not a named goal
goal-must-be-named = a named goal is needed ({ $goals })
goal-unknown = it is none of the goals ({ $goals })
perhaps-meant = { $what }; perhaps { $goal } was meant
declared-goal = declared goal "{ $goal }": { $means }
declared-goal-at-height = declared goal "{ $goal }" at { $height }: { $means }
goal-at = { $goal } ({ $at })
coordinates-read = coordinates { $text }: { $how }
no-goal-within = no goal lies within { $radius } of it
no-goal-within-but = no goal lies within { $radius } of it; the nearest is { $nearest }, { $away } away
goal-near-coordinates = { $goal } is { $away } from the coordinates
several-goals-meant = several goals are meant ({ $goals }): the one that is worst for the pilot counts
goal-ambiguous = it could mean { $goals }
goal-ambiguous-unanswered = it could mean { $goals }, and the event's rules do not say which counts
no-place-for-figures = the event has no place that says where its grid figures belong
goal-distance-unknown = The distance of goal "{ $goal }" from { $start } cannot be checked: neither the log nor an entry says where that was.
goal-too-near = too near: { $goal } is { $away } from { $start }, at least { $least } is asked
goal-too-far = too far: { $goal } is { $away } from { $start }, at most { $most } is allowed
goal-distance = { $goal } is { $away } from { $start }
goal-near-limit = Too near the limit for its uncertainty: { $goal } is { $away } from { $start }. Look at it.
goal-without-time = Whether goal "{ $goal }" was declared in time is not known: it has no time. Enter the time.
goals-due-unknown = Goals are due by { $moment }, but its time is not known.
goal-late = goal declared { $late } late
declared-late = Declared at { $declared }, due by { $due }: { $late } late.
coordinates-unreadable = "{ $text }" is neither a goal nor coordinates: 4+4, 5+5 or 6+6 figures of the event's grid (1234 5678), full easting and northing, a grid square (30T VK 1234 5678), or latitude and longitude (40.1234, -3.4567)
coordinates-too-far = "{ $text }" lies { $away } from the event, farther than { $most }: check the figures
figures-unequal = "{ $text }" has not as many figures of easting as of northing
no-such-square = "{ $text }" is no grid square that exists
no-such-zone = there is no zone { $zone } of UTM, only 1 to 60
grid-square = grid square { $square }
full-figures = east { $east }, north { $north }
in-zone = { $how }, in zone { $zone } of UTM
figures-completed = figures { $figures }, each counting { $unit } m, completed near the site: east { $east } m, north { $north } m
figures-doubtful = the figures { $figures } lie { $off } from the site, so the next square of { $side } could be meant: enter the full coordinates


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
