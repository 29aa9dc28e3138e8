### Every sentence that people read, in the trade's plain English.
### The name of a message is the kind of a fact; its variables are the fact's values, which
### arrive said in the event's units and time zone.  Counts arrive as numbers.

## Small words
day-pattern = d MMM
list-end = { $before } and { $last }
over-99-percent = over 99 %
under-1-percent = under 1 %

mark-between-fixes = where the log was at that time, between two fixes
mark-in-a-pause = the log pauses for { $pause } around this mark: its place is on a straight line between the fixes
mark-without-log = the mark is to come from the log, and there is no log
mark-outside-log = the log does not cover the time of the mark
task-cancelled = the task is cancelled
task-planned = the task is not flown yet
not-brought-up = { $seen } Not brought up: less likely than { $least }.
at-once = { $worse } At the same time: { $other }
report-and-log = { $report } The log: { $other }
report-beside-log = { $report } { $beside }
beside-report = By the log the balloon was { $where } at { $at }.
beside-height = { $height } above the ground
beside-away = { $away } from the nearest target or scoring area
beside-inside = inside the scoring area
report-contradicted = { $who } reported { $report } at { $noted } by pilot { $pilot }, which the log contradicts. { $beside } { $there }
report-says-ground-contact = a ground contact
report-says-low = low flight
report-others = Low and near then: { $named }. Ask the observer for the number.
report-many = Low and near then: { $named }; { $more } more fit nearly as well, so the logs cannot tell whom. Ask the observer for the number.
report-nobody = No other log shows anybody low and near then. Check time and number with the observer.
report-other = pilot { $pilot } ({ $height } at { $at })
report-borne-out = { $report } The log shows it too.
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
latitude-longitude = { $lat }, { $lon } (WGS84)
grid-coordinates = { $east } E, { $north } N
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

term-entry-method = how it was measured
term-entry-time = the time
term-entry-unit = the unit
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
no-point-so-far = no point lies { $length } at { $bearing } from { $east } E, { $north } N on the map grid { $system }
pressure-beyond-the-atmosphere = a pressure outside the standard atmosphere, which is given from −5 to 20 km
height-beyond-the-atmosphere = a height outside the standard atmosphere, which is given from −5 to 20 km
no-place-on-earth = no place on Earth: { $lat }, { $lon }
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
term-marks-sum = all of them, added up
term-marks-mean = all of them, by their mean
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
fell-before-start = Check the times: { $point } fell at { $end }, before { $start }, from when time counts.
dropped-before-launch = Check the times: { $mark } fell at { $time }, before the launch at { $launch }.
dropped-before-period = Check the times: { $mark } fell at { $time }, before the launch period opened at { $opening }.
dropped-after-landing = Check the times: { $mark } fell at { $time }, after the landing at { $landing }.
marks-out-of-order = Check the times: { $second } fell at { $second_at }, before { $first } at { $first_at }.
landed-before-launch = Check the times: the landing at { $landing } is before the launch at { $launch }.
landed-before-period = Check the times: the landing at { $landing } is before the launch period opened at { $opening }.
declared-after-drop = Check the times: { $goal } was declared at { $declared }, after the mark fell at { $drop }.
marks-too-far-apart = Check times and places: { $first } at { $first_at } and { $second } at { $second_at } lie { $apart } apart. No balloon flies that fast.
times-by-log = { $told } At least one of these times is from the log { $log }. See whether that is this pilot's log of this flight, and its clock right; else correct the time that was entered.
too-few-drops = { $marks } of { $wanted } marks: all of them must have a result
marks-sum = all marks added up: { $each }, together { $result }
marks-mean = mean of all marks: { $each }, mean { $result }
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
race-time = from { $start } to { $end }: { $taken }
race-finer-than-log = { $log } has a fix every { $every }, and the rules count parts of a second: the last figures are not known. Let races count whole seconds.
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
full-figures = { $east } E, { $north } N
in-zone = { $how }, in zone { $zone } of UTM
figures-completed = figures { $figures }, each counting { $unit } m, completed near the site: { $east } E, { $north } N
figures-doubtful = the figures { $figures } lie { $off } from the site, so the next square of { $side } could be meant: enter the full coordinates


## Rules and penalties
rule-cited = { $rule }: { $value } ({ $source }, { $certainty })
rule-of-event = { $rule }: { $value } (set by the event)
rule-by-default = { $rule }: { $value } (our choice, the event says nothing else)
rule-prohibited = { $place } is prohibited; { $tolerance }
rule-of-task = { $what }, set for the task
term-task-launch-period = launch period
term-task-scoring-period = scoring period
all-of = { $parts }
rule-named = { $rule }
rule-and-paragraph = { $rule } ({ $own })
paragraph-and-penalty = { $own }, penalty { $cost }
paragraph-of-penalty = penalty { $cost }
rule-in-task = { $rule }, task { $task }
rule-in-words = { $text }
term-certainty-confirmed = read in a published text
term-certainty-one-source = one source or an old edition
term-certainty-memory = from memory
term-certainty-practice = common practice, no source
term-certainty-event = set by the event
term-certainty-choice = our choice
term-source-practice-height = festival practice: at least 75 ft above the ground until inside the scoring area
term-source-practice-until = festival practice: until the scoring area is first entered
term-source-practice-contact = festival practice: touching the ground in the scoring area disqualifies from the task
term-source-practice-launch = festival practice: a launch too near does not count
term-source-marker-throw = a marker of 70 g with its tail thrown from a low pass; used only to warn
term-source-club-and-older-edition = left-over rank points shared evenly: rules of one club and one older edition
term-source-model-rules-symbols = model event rules, chapter 14, symbols from memory
term-source-model-rules-checked = model event rules, chapter 14; shape checked against published scores of 2014, 2022 and 2024, symbols from memory
term-source-none-for-festivals = no published text found for festivals
term-source-none-found = no published text found
term-source-no-tolerance = no tolerance unless the event sets one
term-source-last-decimal = one unit of the last decimal of a published result
term-source-gas-races = published rules of long-distance gas races: ranking by distance alone
term-source-championship-2014 = rules of a 2014 championship: 100 task points a minute or part
term-source-cup-2000-goals = rules of a European cup, 2000: several goals near the coordinates within 200 m
term-source-cup-2000-counts = rules of a European cup, 2000: the least advantageous counts, none is no result
term-source-club-2021 = rules of a balloon club, 2021
term-source-log-resolution = shorter dips are within what a log can resolve
term-source-state-2025-decimals = state championship rules, 2025 (one or two decimals)
term-source-state-2025-section-9 = state championship rules, 2025, section 9
term-source-whole-metres = whole metres: a landing is known to some metres; shown as kilometres
amount-given = { $amount } given
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
penalty-figures = { $parts }: { $amount }
penalty-figures-capped = { $parts }, at most { $most }: { $amount }
penalty-base = { $amount } for it
penalty-per = { $units } { $of }{ ENDS($read, $of) ->
    [yes] { "" }
   *[no] { " " }({ $read })
  } beyond the limit{ $each ->
    [1] { "" }
   *[other] { " " }at { $each } for each
  }
penalty-step = { $amount } for how far it was
penalty-at-most = { $cost }, at most { $most }
penalty-flat = { $amount }
penalty-each = { $amount } for each { $of }
penalty-from = { $amount } from { $over } { $of } beyond the limit on
cost-task-points = { $amount ->
    [one] 1 task point
   *[other] { $amount } task points
  }
cost-event-points = { $amount ->
    [one] 1 competition point
   *[other] { $amount } competition points
  }
cost-metres = { $amount ->
    [one] 1 metre of result
   *[other] { $amount } metres of result
  }
term-exact-m = metre
term-exact-ft = foot
term-exact-km = kilometre
term-exact-mi = mile
term-exact-s = second
term-exact-min = minute
term-exact-h = hour
term-exact-degree = degree
term-exact-percent = percent
term-started-m = metre begun
term-started-ft = foot begun
term-started-km = kilometre begun
term-started-mi = mile begun
term-started-s = second begun
term-started-min = minute begun
term-started-h = hour begun
term-started-degree = degree begun
term-started-percent = percent begun
term-full-m = full metre
term-full-ft = full foot
term-full-km = full kilometre
term-full-mi = full mile
term-full-s = full second
term-full-min = full minute
term-full-h = full hour
term-full-degree = full degree
term-full-percent = full percent
term-unit-si = m or s
term-unit-degree = degrees
term-unit-percent = percent
term-rule-not-answered = not answered yet
term-rule-not-set = none
term-within-scoring-area = the task's scoring area
term-yes = yes
term-no = no
term-choice-until-scoring-area = until inside the scoring area
term-choice-until-drop = until the drop
term-choice-until-exit = until leaving it
term-choice-retry-first = the first
term-choice-retry-last = the last
term-choice-several-least-advantageous = the one that makes the result worst
term-choice-several-nearest = the nearest
term-choice-several-invalid = none: the declaration is not valid
term-choice-method-international = the formula of the model event rules
term-choice-method-places = points for each place
term-choice-method-none = no points: places go by result
term-choice-ties-shared-rank = they share the better rank
term-choice-ties-mean = the mean of the places they take
term-choice-parted-by-nothing = nothing
term-choice-parted-by-earlier-drop = the earlier drop
term-choice-ties-best-scores = by the best task, then the next best
term-choice-ties-most-wins = by the number of tasks won
term-choice-ties-last-task = by the last task
term-choice-counts-less-advantageous = the less advantageous
term-choice-counts-more-advantageous = the more advantageous
term-choice-counts-mean = their mean
term-choice-no-result-share = a share of what is left
term-choice-no-result-zero = none
term-choice-no-result-next-place = those of the place after the last result
term-choice-no-result-last-place = those of the last place
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
points-by-result = place { $rank }, before the median place { $median }: 1000 − (1000 − { $median_points }) × ({ $result } − { $best }) ÷ ({ $at_median } − { $best }) = { $points } points
points-by-rank = place { $rank }, from the median place { $median } on: 1000 × ({ $entered } + 1 − { $rank }) ÷ { $entered } = { $points } points
points-across-median = mean points of places { $first } to { $last }: before the median place { $median } { $median_points } points each, from it on by place of { $entered }: { $points } points
class-of-one = The rules score each class by itself, and this pilot is alone in class { $name }. Look whether the class is spelt like the others'.
without-class = The rules score each class by itself, and no class is entered here. They are ranked among themselves for now. Enter the class.
tie-rounded = equal with { $others }: results count in metres as rounded, { $metres } m each
tie-parted = same result as { $others }: the earlier first drop has the better place, here at { $at }
tie-stays = same result as { $others }: no time is known of the first drop of { $unknown }, so they share the place
tie-not-parted = { $pilots } have the same result, and the rules part them by the earlier first drop. No time is known of the first drop of { $unknown }, so they share the place for now. Enter the time.
points-without-result = no result: no points
points-of-next-place = no result: points of place { $rank }, after the last result: { $points }
points-of-last-place = no result: points of place { $rank }, the last: { $points }
points-nobody = nobody has a result: { $points } points each
points-shared = no result: half of 1000 × ({ $entered } + 1 − { $scorers }) ÷ { $entered } = { $points } points
points-at-least = { $how }; everybody who flew has at least { $least }

## From results to scores
nothing-known = no mark, no log and no report: taken as not flown
reported-not-flown = did not fly, reported by { $by }
same-name = The name { $what } stands under several numbers. Correct or withdraw one of them, or accept that they are different people.
same-registration = The registration { $what } stands under several numbers. Correct it, or accept that they fly the same balloon.
alike-names = { $one } and { $other } are spelt nearly alike and stand under two numbers. If they are one person, withdraw one of them.
columns-exchanged = { $pilots ->
    [one] One pilot has
   *[other] { $pilots } pilots have
  } a person’s name in the column { $column } and something else as the name (“{ $own }” beside “{ $beside }”). The columns are probably exchanged: correct the roster.
codes-exchanged = { $pilots ->
    [one] One pilot has
   *[other] { $pilots } pilots have
  } what reads like a registration in the column { $column }, and something else as the registration (“{ $own }” beside “{ $beside }”). The columns are probably exchanged: correct the roster.
numbers-exchanged = { $pilots ->
    [one] One pilot has
   *[other] { $pilots } pilots have
  } a long number and a short logger’s serial (number { $number } beside logger “{ $logger }”). The columns are probably exchanged: correct the roster.
letters-misread = { $pilots ->
    [one] One name has
   *[other] { $pilots } names have
  } letters that a program misread: “{ $name }” is probably “{ $meant }”. Save the list as UTF-8 where it comes from and import it anew, or correct the names.
letters-lost = { $pilots ->
    [one] One name has
   *[other] { $pilots } names have
  } a sign where a letter was lost (“{ $name }”). Save the list as UTF-8 where it comes from and import it anew, or correct the names.
term-column-registration = registration
term-column-logger = logger
term-column-class = class
term-column-country = country
same-logger = The logger { $what } stands under several numbers. Correct it: its logs cannot tell whose they are.
still-flying = Still flying, says { $by }. It counts as no result for now. Enter the mark or the landing, or "no mark" if none was dropped.
nobody-known = The task is set down as flown, and nothing is known of anybody: no mark, no log, no report. It gives no points. Enter what was seen, or set it planned or cancelled.
entered-for-planned = { $entries ->
    [one] 1 entry is
   *[other] { $entries } entries are
  } made for a task that is set down as planned, and count for nothing. Set the task flown, or withdraw them.
logs-for-planned = { $logs ->
    [one] 1 log of its flight is in
   *[other] { $logs } logs of its flight are in
  }, and the task is set down as planned: logs alone do not change that. It gives no points, and nothing in the logs is looked at for it. Set the task flown, or cancelled if it was not flown.
accounted-for = { $accounted } of { $entered } accounted for
not-yet-accounted-for = { $accounted } of { $entered } accounted for. Missing: { $missing }
result-lost = No result, because something is not entered: { $why }. Enter it, or accept that there is no result.
not-accounted-for = Not accounted for: { $pilots }. No mark, no log, no report: did they fly?
withdrawn-but-log = Reported by { $by } as withdrawn from this task on, but there is a flight log. For now the pilot is not entered in it.
not-flown-but-seen = Reported by { $by } as not flown, but { $other } reported { $what }: one of the two may mean another pilot.
not-flown-but-log = Reported by { $by } as not flown, but there is a flight log.
no-log = No flight log: heights, launch and times are not checked. Ask the pilot for it, or give the pilot a log that is left over.
no-log-many = { $pilots } pilots without a flight log: their heights, launches and times are not checked.
log-ends-its-process = { $log }: the computer ended the process that worked on this log, twice. It is left out; all other logs count. If memory was short, close other programs and score again; else report this with the log.
did-not-fly = did not fly
by-infringement = { $what }
for-infringement = for { $what }
penalty-imposed = added by an official
disqualified-because = disqualified: { $cause }, { $ruling }
no-result-because = { $cause }, { $ruling }
ruled = { $parts }
term-ruling-unruled = not yet decided
term-ruling-apply = confirmed
term-ruling-waive = waived
term-ruling-set = another amount
term-ruling-impose = added
term-ruling-hold = the pilot is asked
term-ruling-bonus = bonus
term-ruling-result = result given
term-ruling-score = score set
term-ruling-average = mean of the other scores
by-whom = by { $who }
at-when = { $when }
because = because: { $why }
step-group-b = flew, no result: { $why }
step-group-c = { $why }
step-result = { ALIKE($measured, $result) ->
    [yes] result: { $result }
   *[no] result: { $measured }, rounded { $result }
  }
step-result-more = result: { $measured } and { $penalty } penalty on top: { $result }
step-result-less = result: { $measured } less { $penalty } penalty: { $result }
step-result-not-under-0 = result: { $measured } less { $penalty } penalty, not under 0: { $result }
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
not-charged-yet = Not charged unless an official decides so.
no-penalty-set = The event sets no penalty for it.
charged-for-now = Counted for now: { $costs }.
amount-unusual = { $who } decided { $amount }. { $beside } The amount counts as entered. If it is a slip, enter the decision anew; else accept it.
amount-proposed = That is ten or a hundred times what the rules propose, or a part of it: { $amount }.
amount-usual = That is ten or a hundred times what like decisions give, or a part of it: { $amount }.
amount-of-all = That is as much as a winner gets for a whole task.
penalty-added-again = { $amount } was added { $times } times (by { $who }), and counts each time. Remove what was entered twice, or accept it.
ruling-meets-nothing = The decision "{ $decision }" on { $what } fits nothing that was found for this pilot in this task. Revert it; if a penalty is due all the same, add one of its own.
infringement-at = { $what } at { $at }
kind-written = { $what } (in the file: { $key })
ruling-on-no-kind = The decision "{ $decision }" names "{ $finding }", which is no kind of infringement. Write { $kinds }.
rulings-now-on-one = { $earlier } and { $last } were made on two infringements that are one now: decide again.
ruling-costs-nothing = { $ruling } costs nothing, since there is no penalty to confirm. Set an amount, waive it, or revert the decision. { $seen }
ruling-on-another-value = { $ruling } was made when the log showed { $was }; it shows { $now } now: decide again. { $seen }
ruling-replaced = { $earlier } no longer counts: { $last } was decided after it.

undecided = { $seen } { $now }
undecided-many = { $pilots } pilots: { $what }, not yet decided.

## Infringements: their names
finding-floor = Under the minimum height
finding-ground-contact = Ground contact
finding-launch-distance = Launch place
finding-launch-period = Launch outside its period
finding-launch-area = Launch outside its area
finding-scoring-period = Mark outside the scoring period
finding-airspace = Prohibited airspace
finding-boundary = Outside the boundary
finding-night = Flight at night
finding-late-declaration = Late declaration
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

## Infringements: what was seen
seen-low = { $lowest } where { $limit } is the minimum height. { $depth } too low for { $duration }, { $sure } sure.
seen-near-minimum = { $lowest } where { $limit } is the minimum height. Nearer to it for { $duration } than the log can tell, { $sure } likely to be too low.
seen-low-let-pass = { $lowest } where { $limit } is the minimum height. { $depth } too low for { $duration }: let pass, the tolerance being { $tolerance } and the least time { $least_time }.
seen-in-doubt = { $seen } { $doubt }
doubt-estimates = The log shows no time on the ground, so heights are estimates (± { $give_or_take }).
doubt-end-unknown = It is not known when the minimum height ceased to hold: the time of the drop or the scoring area is missing.
doubt-pause = It rests on a pause of the log, or on fixes far apart.
doubt-unseen = Unless it is a launch or a landing that the log leaves out.
seen-contact = Ground contact, { $sure } sure: { $signs }.
contact-height = lowest { $height } above the ground (± { $give_or_take })
contact-drift = { $percent } % of the drift lost within seconds
contact-stop = the vertical speed changed by { $change } within { $within }
seen-landing = Landed in { $place } where touching the ground is against the rule.
term-a-place = a place
term-the-scoring-area = the scoring area
seen-airspace = Up to { $depth } inside { $place } for { $duration }, at { $altitude } above mean sea level, { $sure } sure.
seen-outside-boundary = Up to { $depth } outside { $place } for { $duration }, { $sure } sure.
seen-launch-too-near = Launched { $away } from the target where { $limit } is the least distance. { $beyond } too near, { $sure } sure.
seen-launch-too-far = Launched { $away } from the target where { $limit } is the greatest distance. { $beyond } too far, { $sure } sure.
seen-launch-outside = Launched { $away } outside { $place }, { $sure } sure.
seen-early = { $act } { $beyond } before the { $period } began, { $sure } sure.
seen-late = { $act } { $beyond } after the { $period } ended, { $sure } sure.
seen-perhaps-early = { $act } { $within } after the { $period } began, at a time known to { $off }: { $sure } sure that it was early.
seen-perhaps-late = { $act } { $within } before the { $period } ended, at a time known to { $off }: { $sure } sure that it was late.
seen-polar-night = { $act } at { $time }, while the sun does not rise here at all, { $sure } sure.
polar-day = The sun does not set here at this time of the year: no moment of this flight is before sunrise or after sunset.
polar-day-many = The sun does not set here at this time of the year: no moment of the flights of { $pilots } pilots is before sunrise or after sunset.
matter-polar-day = Sun up day and night
term-act-launched = Launched
term-act-landed = Landed
term-act-dropped = Dropped the marker
term-daylight = daylight that the rules allow
reported = { $by } reported { $what }.
reported-with-note = { $by } reported { $what }: “{ $note }”.
reported-what = { $what }
reported-at = { $what } at { $height }
term-an-official = An official
term-report-ground-contact = a ground contact
term-report-low = flying under the minimum height

## Logs and marks against tracks
stood-from-to = { $start } to { $end }
launched-again = { $log } shows a stay on the ground from { $stands } and another launch. The { $launch } launch counts for launch place and launch period. Check whether the rules allow it.
term-launch-first = first
term-launch-last = last
floor-unknown = { $log }: for { $lasts }, from { $start } on, the ground or the altitude is not known where the minimum height holds. Nothing is said of it there. Give heights of the ground that cover the flight.
contact-unknown = { $log }: for { $lasts }, from { $start } on, the ground or the altitude is not known where the ground may not be touched. The log cannot show a contact there. Give heights of the ground that cover the flight.
contact-unknown-many = For { $pilots } pilots the ground or the altitude is not known where the ground may not be touched. Their logs cannot show a contact there. Give heights of the ground that cover the flight.
floor-unknown-many = For { $pilots } pilots the ground or the altitude is not known where the minimum height holds. Nothing is said of it there. Give heights of the ground that cover the flight.
log-has-pauses = { $log } has { $pauses ->
    [one] a pause of { $longest }
   *[other] { $pauses } pauses of up to { $longest }
  } in the air. Nothing is known of what was flown there; pauses over { $least } are told.
clock-dated-early = { $log } is dated { $dated }, { $days ->
    [one] 1 day
   *[other] { $days } days
  } before the flight. Check the log and its flight.
clock-dated-late = { $log } is dated { $dated }, { $days ->
    [one] 1 day
   *[other] { $days } days
  } after the flight. Check the log and its flight.
clock-week-count = { $log } is dated { $dated }, { $days } days off the flight: the receiver began its count of 1,024 weeks anew. Its times of day may be right.
clock-fits-other = { $log } does not fit this flight, and fits flight { $flight }. Put it there if it is of that flight. Infringements about times are possible only.
clock-open = { $log }: { $why }. Its times may be wrong by that. Infringements about times are possible only.
seen-by-disputed-heights = { $seen } Another log of this pilot shows other heights.
seen-by-impossible-heights = { $seen } The heights of the log cannot be right then.
seen-by-doubtful-clock = { $seen } The clock of the log is in doubt.
clock-ends-before = { $log } ends { $apart } before any period of the flight begins. A wrong time zone or clock shifts a log by whole hours.
clock-begins-after = { $log } begins { $apart } after all periods of the flight. A wrong time zone or clock shifts a log by whole hours.
clock-no-launch = { $log } begins in the air at { $at }: the launch is not in it.
clock-no-landing = { $log } ends in the air at { $at }: the landing is not in it.
clock-too-fast = { $log } has { $jumps ->
    [one] a jump
   *[other] { $jumps } jumps
  } faster than { $faster }, the first of { $way } at { $at }. Do not rely on what it shows there.
clock-doubtful = The clock of { $log } may be wrong: { $grounds }. Nothing tells which is right. Until that is settled nothing that rests on its times is certain. Enter when a mark fell, as somebody saw it, or remove the log that is wrong.
clock-proposed = The clock of { $log } seems wrong: { $grounds }. Its times would be { $off } { $way }, give or take { $give_or_take }. Until then they count as they are, and nothing that rests on them is certain. Accept this to move them. If the log is right, correct the entered times, or enter when a mark fell.
clock-by-marks = { $marks ->
    [one] a mark was noted at another time than the track passes it
   *[other] { $marks } marks were noted at other times than the track passes them, all by about as much
  }
clock-by-log = { $other } of the same pilot shows the same way at other times
clock-by-field-days = the log is of another day, and its launch fits those of the other balloons at the same time of day
clock-by-field-hours = its launch fits those of the other balloons by whole hours, as with a wrong time zone
clock-by-field = no other balloon flew at its times
term-clock-later = later
term-clock-earlier = earlier
clock-moved = all times moved: { $off } { $way }, give or take { $give_or_take }
step-clock-moved = All times of { $log } are { $off } { $way } than the log has them, give or take { $give_or_take }: its clock was wrong, and an official accepted it.
clock-jump = The clock of { $log } jumps ahead by { $ahead } at { $at }: the balloon moved { $way } meanwhile.
mark-astray = { $what } { $others }
mark-of = The mark of pilot { $pilot }
mark-named = Mark { $mark } of pilot { $pilot }
mark-without-flight = { $mark } cannot be compared: { $log } shows no flight.
mark-beyond-throw = { $mark } lies { $away } from the track of { $log } (nearest at { $at }), { $beyond } farther than a throw carries ({ $reach }).
mark-at-other-time = { $mark } was noted at { $noted }, when the track of { $log } was { $then } away. It came near ({ $away }) at { $at }.
mark-in-pause = { $mark } cannot be held against { $log }, which pauses from { $start } to { $end }: the marker may have fallen then. The mark counts as it is entered.
mark-before-log = { $mark } cannot be held against { $log }, which begins in the air at { $end }: the marker may have fallen before. The mark counts as it is entered.
mark-after-log = { $mark } cannot be held against { $log }, which ends in the air at { $start }: the marker may have fallen later. The mark counts as it is entered.
mark-fits-nobody = No other track of the flight comes near it. Check number, mark and log.
marks-swapped = The marks of pilots { $pilot } and { $other } fit each other’s flights. Numbers or logs are perhaps swapped.
mark-fits = It fits the flight of { $named }. Check number, mark and log.
mark-fits-many = It fits the flights of { $named } and { $more } more. Check number, mark and log.
mark-unlike-throw = { $mark } lies { $away } from the track of { $log } (nearest at { $at }): farther than nearly all marks of this flight from theirs.
mark-unlike-aim = { $mark } lies { $aimed } from the target, which the track of { $log } passed at { $near } (nearest to the mark at { $at }): hardly any mark of this flight differs so much.
mark-not-in-the-air = { $mark } was noted at { $noted }, when { $log } does not show its pilot in the air.
mark-not-unusual = { $mark } by itself is not unusual.
mark-fits-none = Nothing else fits clearly better. Check number, time and sheet.
rows-shifted = { $rows } marks in the order they were entered, from that of pilot { $first } to that of pilot { $last }, fit the flights of the pilots one row { $way } far better than their own. The sheet perhaps slipped by a row. Each counts as entered for now. Compare the entries with the sheet.
term-row-after = down
term-row-before = up
stack-twice = { $same } of the { $both } pilots with marks in task { $one } and task { $other } have the same numbers in both. One stack of sheets was perhaps entered in both tasks. All of them count for now. Compare the sheets, and take back what was entered twice.
stack-reference = { $what } { $meant } The same holds for other marks measured from { $start }.
stack-reference-many = { $pilots } pilots have marks that are entered as measured from { $start } and fit their flights if they were measured from { $place }. One reference was perhaps written for all of them. They count as entered for now. Check the sheets, and take all of them as they fit, or each by itself.
stack-turned = { $what } { $meant } The same holds for other bearings from { $start }.
stack-turned-many = { $pilots } pilots have marks with bearings from { $start } that fit their flights if the bearings were read from the other end. They count as entered for now. Check the sheets, and take all of them as they fit, or each by itself.
stack-unit = { $what } { $meant } The same holds for other distances from { $start }.
stack-unit-many = { $pilots } pilots have marks measured from { $start } that fit their flights if the distances are in { $unit }. They count as entered for now. Check the sheets, and take all of them as they fit, or each by itself.
stack-task = { $what } { $meant } The same holds for other marks measured from { $start }.
stack-task-many = { $pilots } pilots have marks that fit their flights as marks of task { $other }. One stack of sheets was perhaps entered in the wrong task. They count as entered for now. Check the sheets, and take all of them as they fit, or each by itself.
meant-turned = It fits the flight if the bearing is { $bearing }, read from the other end. Check the sheet.
meant-reference = It fits the flight if it was measured from { $place }. Check the sheet.
meant-task = It fits the flight as a mark of task { $task }. Check the sheet.
meant-unit = It fits the flight if the distance is in { $unit }: { $distance }. Check the sheet.
meant-digits = It fits the flight if “{ $text }” is “{ $instead }”, two digits exchanged. Check the sheet.
meant-side = It fits the flight on the { $side } of the line. Check the sheet.
track-reaches = pilot { $pilot } ({ $away } at { $at })
logs-of-one-flight = { $log } of pilot { $pilot } and { $other_log } of pilot { $other } show one and the same flight: two loggers in one basket, or a log under a wrong number. Find out whose flight it is.
marks-on-other-track = All { $marks } marks of pilot { $pilot } lie off the track of { $log } and on that of { $other_log }, the log of pilot { $other }. It is probably another pilot’s log: check both.

## Whose a log is
term-sign-by-hand = the assignment by hand
term-sign-pilot-name = the pilot’s name inside it
term-sign-name-alike = the pilot’s name inside it, spelt a little differently
term-sign-name-part = one word of the pilot’s name inside it
term-sign-registration = the registration inside it
term-sign-logger = the logger’s serial
term-sign-competition-id = the competition number inside it
term-sign-file-name = the pilot’s name in the file’s name
term-sign-file-name-part = one word of the pilot’s name in the file’s name
term-sign-file-registration = the registration in the file’s name
term-sign-file-logger = the logger’s serial in the file’s name
term-sign-file-called = the number that its name calls the pilot’s
term-sign-folder-number = the number in its folder’s name
term-sign-file-number = the number in its name
term-sign-file-number-name = a number in its name beside a part of that pilot’s name
term-sign-basket = its flight in one basket with a log of the pilot’s
term-sign-marks = the pilot’s marks, which its track reaches
sign-fits = { $sign } fits pilot { $pilots }
sign-fits-many = { $sign } fits { $pilots } other pilots and not this one
sign-fits-nobody = { $sign } (“{ $written }”) fits nobody on the roster
marks-off-track = { $marks ->
    [one] the pilot’s mark lies off its track
   *[other] { $marks } of the pilot’s marks lie off its track
  }
log-may-be = it may be pilot { $pilot }’s ({ $chance })
no-such-pilot = there is no pilot { $pilot }
log-by-hand-contradicted = { $log } was given to pilot { $pilot } by hand, but { $against }. It stays so. Check whose it is.
log-contradicted = { $log } is probably the log of pilot { $pilot } ({ $chance }) by { $signs }, but { $against }. It counts as this pilot’s for now. Check whose it is and assign it by hand.
log-likely = { $log } is probably the log of pilot { $pilot } ({ $chance }) by { $signs }. That alone is not enough. It counts as this pilot’s for now. Check whose it is and assign it by hand.
log-unlikely = { $log }: the most likely is pilot { $pilot } ({ $chance }) by { $signs }. That is not enough: it counts for nobody. Assign it by hand.
log-ambiguous = { $log }: the most likely is pilot { $pilot } ({ $chance }) by { $signs }, but { $against }. It counts for nobody. Assign it by hand.
log-unmatched = { $log }: nothing in it or in its name tells whose it is. It counts for nobody. Assign it by hand. Names, registrations and serials are looked for in the log and in the names of file and folders, and numbers that are called the pilot’s (“pilot 12.igc”).
log-near = { $log } fits no pilot: { $near }. It counts for nobody. Give it to its pilot.
log-near-one = { $sign } (“{ $written }”) is one sign off that of { $pilot }
log-other-time = { $log } counts for pilot { $pilot }, but has nothing within the periods of this flight’s tasks: another day’s log, or its clock is wrong. Find the right log, or accept that it counts.
log-far-off = { $log } counts for pilot { $pilot }, but left the ground { $away } from where any other log of this flight did: another event’s log, or somebody else’s. Find the right log, or accept that it counts.
log-contested = Several logs are surely those of pilot { $pilot } and were in different places at once: { $lead } counts for now, not { $others }. One of them is another balloon’s. Assign it to its pilot by hand.
log-several = Pilot { $pilot } has several logs. Counted: { $counts }. Not counted: { $others }.
log-joined = Pilot { $pilot } has several logs of this flight. They count as one track: { $lead } leads; { $others } fill what is missing in it.
log-by-hand = { $log }, assigned by hand
log-with-fixes = { $log } ({ $fixes ->
    [one] 1 fix
   *[other] { $fixes } fixes
  })
log-matched = matched by { $signs } ({ $chance })
log-matched-by-hand = assigned by hand
log-not-matched = not matched
log-broken = { $why }. This log is left out; all others count.
log-fails = { $log }: the program fails on it ({ $error }). This log is left out; all others count. Report this with the log.

## What was left out of a log or put right in it
log-repaired = { $log }: { $repairs }.
log-repaired-many = In the logs of { $pilots } pilots something was left out or put right.
log-left-out = { $log } holds more than this flight. Not judged: { $parts }.
log-heights-other = { $log } and { $other } flew in one basket and show heights that differ by up to { $most } ({ $whiles }). Heights count by { $log }; no infringement by them is certain in that time. Check which of the logs is right.
log-heights-while = from { $start } to { $end }
log-heights-under = { $log } shows the basket up to { $most } under the ground ({ $whiles }): its heights cannot be right then. No infringement by them is certain in that time. Check the log, and the terrain there.
log-heights-never-up = { $log } never rises above the ground: it shows no flight, as if left in a car. No infringement by its heights is certain. Check whose log it is and from where.
log-heights-off-ground = The altitudes in { $log } cannot be right: where the balloon stood they are { $most } off the ground, as those of a logger that writes feet are. No infringement by its heights is certain. Check in what unit the logger writes, and the elevation of the ground.
log-heights-fast = The altitudes in { $log } cannot be right: they change at { $most }, faster than a balloon climbs or falls, as those of a logger that writes feet do. No infringement by its heights is certain. Check in what unit the logger writes.
log-left-out-many = The logs of { $pilots } pilots hold more than this flight; the rest is not judged.
log-part = { $what } from { $start } to { $end }
term-part-flight = another flight
term-part-ride = a ride in a car
term-part-rope = tethered flying
repair-garbled-line = { $count ->
    [one] 1 unreadable line
   *[other] { $count } unreadable lines
  } left out
repair-garbled-fix = { $count ->
    [one] 1 unreadable fix
   *[other] { $count } unreadable fixes
  } left out
repair-garbled-altitude = { $count ->
    [one] 1 unreadable altitude
   *[other] { $count } unreadable altitudes
  } left out
repair-garbled-extension = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } kept without an unreadable extension
repair-no-time = { $count ->
    [one] 1 fix without a time
   *[other] { $count } fixes without a time
  } left out
repair-bad-time = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } with a time outside 1970 to 2100 left out
repair-bad-position = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } without a position on earth left out
repair-no-position = { $count ->
    [one] 1 moment without a measured position
   *[other] { $count } moments without a measured position
  } left out
repair-no-3d-altitude = { $count ->
    [one] 1 altitude 0
   *[other] { $count } altitudes 0
  } of fixes without a height left out
repair-duplicate-time = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } with the time of the one before left out
repair-backward-time = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } whose time is out of order left out
repair-parts-reordered = { $count ->
    [one] 1 recording
   *[other] { $count } recordings
  } joined out of order, moved
repair-joined = { $count ->
    [one] 1 further recording
   *[other] { $count } further recordings
  } in the same file, joined
repair-too-many-headers = { $count ->
    [one] 1 further header
   *[other] { $count } further headers
  } left out
repair-too-many-marks = { $count ->
    [one] 1 further waypoint
   *[other] { $count } further waypoints
  } left out
repair-mark-without-time = { $count ->
    [one] 1 waypoint without a time
   *[other] { $count } waypoints without a time
  } left out
repair-no-zone = { $count ->
    [one] 1 time
   *[other] { $count } times
  } without a time zone, read as UTC
repair-bad-checksum = { $count ->
    [one] 1 sentence
   *[other] { $count } sentences
  } with a wrong checksum left out
repair-cut-sentence = { $count ->
    [one] 1 sentence
   *[other] { $count } sentences
  } cut off before the checksum left out
repair-no-checksum = { $count ->
    [one] 1 sentence
   *[other] { $count } sentences
  } without a checksum, used as found
repair-null-position = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } at latitude and longitude 0 left out, from { $start } on
repair-clock-jump = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } recorded while the clock was wrong by half a day or more left out, from { $start } on
repair-far-off = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } over { $apart } apart from the flight left out, from { $start } on
repair-position-spike = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } reached only at over { $faster } left out, from { $start } on
repair-jump = { $count ->
    [one] 1 jump that does not lead back, at { $start },
   *[other] { $count } jumps that do not lead back, the first at { $start },
  } left in
repair-no-satellite-altitude = satellite altitude 0 throughout, taken as not recorded
repair-satellite-altitude-beyond = { $count ->
    [one] 1 satellite altitude
   *[other] { $count } satellite altitudes
  } that no balloon reaches removed, from { $start } on
repair-satellite-altitude-spike = { $count ->
    [one] 1 satellite altitude
   *[other] { $count } satellite altitudes
  } reached only at over { $faster } removed, from { $start } on
repair-no-pressure-altitude = pressure altitude 0 throughout, taken as not recorded
repair-pressure-altitude-beyond = { $count ->
    [one] 1 pressure altitude
   *[other] { $count } pressure altitudes
  } that no balloon reaches removed, from { $start } on
repair-pressure-altitude-spike = { $count ->
    [one] 1 pressure altitude
   *[other] { $count } pressure altitudes
  } reached only at over { $faster } removed, from { $start } on
repair-pressure-altitude-aside = { $count ->
    [one] 1 pressure altitude
   *[other] { $count } pressure altitudes
  } that stood aside of all around for a moment removed, from { $start } on
repair-pressure-altitude-jump = the barometer jumped; what it shows between jumps is left out, and heights go by the receiver { $whiles }
repair-pressure-altitude-dead = the barometer does not follow the flight; heights go by the receiver throughout
repair-week-rollover = dated { $dated }, since the receiver began its count of weeks anew; { $added } added
repair-zone-assumed = { $count ->
    [one] 1 time
   *[other] { $count } times
  } without a time zone, read as local: as UTC the log would lie in no period of the flight
repair-doubled-hour = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } of an hour that the local clocks showed twice: what comes before and after tells which
repair-doubled-hour-open = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } of an hour that the local clocks showed twice, and nothing tells which for certain
repair-clock-not-set = { $count ->
    [one] 1 fix
   *[other] { $count } fixes
  } after the local clocks changed, which the clock of the log did not follow: the offset from before is taken
repair-date-assumed = no date in the log: dated by the flight, { $day }
repair-headers-differ = joined recordings differ in { $what }; the first one counts
repair-bad-date = the date “{ $record }” left out
repair-broken-off = unreadable from line { $line } on ({ $reason }); what stood before is kept

## Rules by name
rule-floor-height = minimum height above the ground
rule-floor-above = place above which the minimum height counts
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
rule-tracks-dimensions = dimensions of distances along a track (2: in the plane, 3: height counted too)
rule-tracks-throw = how far a marker may be thrown
rule-tracks-log-gap = pause of a flight log that people must know of
rule-points-method = points formula
rule-points-ties = points of equal results
rule-points-parted-by = what parts equal results of a task
rule-points-no-result = points of those who flew without a result
rule-points-by-class = whether each class is a field of its own, with places and points among itself
rule-points-show-up = least points of everybody who flew
rule-points-places = points of each place
rule-results-decimals = decimals of a result
rule-results-step = step in feet and inches that lengths are rounded and ranked in
rule-results-angle-decimals = decimals of an angle
rule-results-time-decimals = decimals of a time taken in a race, in seconds
rule-keying-counts = which of two entries that agree counts
rule-keying-tolerance = difference of two entries that is let pass
rule-keying-twice = whether every mark must be entered by two people
rule-keying-drop-time = whether the time at which a marker fell must be noted with every mark
rule-keying-measurer = whether it must be noted with every mark who measured it
rule-standings-best-of = how many of the best tasks count
rule-standings-ties = how equal totals are parted
rule-standings-team-size = how many of the best pilots of a team count
rule-standings-team-column = column of the pilots' list that names the team
rule-standings-by-class = whether each class has its own standings
rule-publication-complaint-time = time for complaints after official results
rule-publication-protest-time = time for protests after the answer to a complaint
book-championship = Championship after the model event rules
book-festival = Festival target competition
book-gas-race = Long-distance race of gas balloons

## Rules that the event has not answered
rule-unanswered = { $rule }: not answered yet. { $means } Answer it on the page Rules, or in the event's file (see the list of rules).
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

## Open matters: what each kind is called, and what closes it
matter-unsettled = marks to settle
matter-no-mark = flew, and no mark
matter-unruled = infringement to decide
matter-desk-clock = clock of this computer
matter-mark-far-from-track = mark and log do not fit
matter-log-pilot = whose log it is
matter-ruling = decision in doubt
matter-rules = rules to answer
matter-class = class of a pilot
matter-not-entered = entries of a pilot who is not entered
matter-check-in = check-in of pilots
matter-target-closed = mark at a closed target
matter-target-moved = target moved after marks
matter-target-not-clear = target opened before the field was clear
matter-report-contradicted = report against the log
matter-stack-unfit = marks of one stack and flights disagree
matter-rows-shifted = rows of a sheet one line off
matter-not-noted = not noted with a mark
matter-stack-twice = one stack of sheets in two tasks
matter-report = report against the evidence
matter-not-flown = not accounted for
matter-same-person = one pilot under two numbers
matter-alike-names = pilots of nearly one name
matter-columns-exchanged = exchanged columns of the roster
matter-letters-misread = misread letters in the roster
matter-still-flying = still flying
matter-planned = something in for a task not flown yet
matter-result-lost = no result for want of an entry
matter-keying = entries of a task that does not count
matter-ruling-replaced = decision made again
matter-declaration = declared goal
matter-impossible = times that cannot be
matter-tie = tie left
matter-task = task
matter-no-log = no flight log
matter-retry = second launch
matter-log-gap = gap in a log
matter-log-heights = heights of a log that cannot be right
matter-log-clock = clock of a log
matter-log-clock-wrong = clock of a log is off
matter-log-clock-alone = clock of a log may be off
matter-log-by-hand = log given to a pilot by hand
matter-log-broken = log that cannot be read
matter-log-repaired = repaired log
matter-log-left-out = log with more than the flight
matter-log-unmatched = log of nobody
matter-log-duplicate = several logs of one pilot
matter-reference = reference system
matter-height-unknown = height not known
matter-terrain = heights of the ground
matter-acceptance-gone = acceptance without a matter
matter-set-aside = entry set aside
matter-conflict = desks disagree
matter-rule-kept = rule that an official task keeps
matter-old-number = entered under an old number
matter-other-person = another person under a number
matter-lost-flight = entries without a flight
matter-fork = one desk in two copies
matter-clock = clock of a desk
matter-complaint = complaint or protest
matter-protest-period = time to protest

thing-event-settings = the event's settings
thing-pilot = pilot { $name }
thing-place = place { $name }
thing-flight = flight { $name }
thing-log-pilot = the pilot of log { $name }
thing-log = log { $name }
thing-publication = { $stage } results version { $version }
thing-row = { $what } of pilot { $of_pilot } in task { $of_task }
thing-mark = the entry
thing-settle = the settled mark
thing-declaration = the declaration
thing-report = the report
thing-target = the target log
thing-task-sheet = a task sheet
thing-target-line = a line of the target log { $name }
thing-ruling = the decision
thing-decision = the decision on { $on } of pilot { $of_pilot }
thing-terrain = the terrain
thing-schema = the event
thing-withdraw = a withdrawal
thing-undo = a correction
thing-complaint = a complaint
thing-complaint-outcome = the answer to a complaint
thing-note = a note
thing-reopen = the opening of a task again
thing-air-renewed = the air of a flight, found again
thing-air-set = the air of a flight, as its folder has it
thing-acceptance = the acceptance of an open matter
act-schema = Event created
act-event-settings = Settings and rules
act-pilot = Pilot
act-place = Place
act-flight = Flight and its tasks
act-mark = Mark entered
act-settle = Entries compared
act-declaration = Declared goal
act-report = Observer report
act-ruling = Decision
act-log-added = Flight log added
act-log-assigned = Flight log given to a pilot
act-terrain = Heights of the ground
act-withdraw = Entry withdrawn
act-undo = Entry reverted
act-publication = Published
act-complaint = Complaint or protest
act-complaint-outcome = Complaint answered
act-note = Note
act-acceptance = Open matter accepted
act-reopen = Task opened again
act-task-sheet = Task sheet issued
act-air-renewed = Air of a flight found again
act-air-set = Air of a flight taken from its folder
act-target = What happened to a target
act-unknown = { $kind }
journal-pilot = { $cells }
journal-place = { $name } ({ $kind })
journal-flight = flight { $flight } with { $tasks ->
    [one] 1 task
   *[other] { $tasks } tasks
  }
journal-row = { $cells }
journal-cell = { $name } { $text }
journal-log = { $log }, flight { $flight }
journal-log-of-nobody = { $log }, to nobody
journal-log-assigned = { $log }, to pilot { $pilot }
journal-terrain = { $name }
journal-of-entry = entry { $entry }
journal-published-event = { $what }, whole event
journal-published-tasks = { $what }, task { $tasks }
journal-complaint = { $level } of pilot { $pilot }: { $text }
journal-answer = { $verdict }: { $entry }
journal-complaint-of = { $level } of { $pilot }
journal-answers = the answer to “{ $questions }”
journal-note = { $text }
journal-acceptance = { $matter }: { $cells }
journal-replaced = replaced by { $entry }
journal-reverted = reverted by { $entry }
journal-withdrawn = withdrawn by { $entry }
journal-hidden = task { $task }, pilot { $pilot }: hidden until entered twice
term-cell-distance2 = second distance
term-cell-from2 = second point
term-cell-lat = latitude
term-cell-lon = longitude
term-cell-measurer = measured by
term-cell-settles = decided because
term-cell-finding = infringement
term-cell-kind = saw
term-cell-number = no.
term-cell-class = class
term-unit-task-points = task points
term-unit-event-points = competition points
term-unit-metres = metres of result
term-unit-no-result = no result
term-unit-disqualified = disqualified
term-outcome-upheld = upheld
term-outcome-rejected = rejected
term-outcome-taken-back = taken back
entry-by = { $entry } by { $who }
desks-clash = { $what } (entries { $entries }). Decide which holds and enter it once more.
rule-kept = Task { $task } is official and keeps { $rule }: { $kept }. The event says { $now } since. Open the task again to score it by that (sandtail correct reopen).
old-number = Entry { $entry } by { $who } names number { $old }, which is { $new } now. It counts for { $new }.
other-person = An import put { $now } behind number { $number }, where { $before } stood. All that was entered under { $number } counts for { $now }. Correct the roster, or accept it.
clash-withdrawn = { $what }: withdrawn at one desk, changed at another
clash-corrected = { $what }: corrected in different ways
clash-changed = { $what }: changed in different ways
clash-fields = { $what }: changed in different ways ({ $fields })
clash-set-down = { $what }: set down { $times } times
flight-lost = { $entries ->
    [one] 1 entry belongs
   *[other] { $entries } entries belong
  } to flight { $flight }, which is not set down or was withdrawn. Take the withdrawal back, or withdraw them too.
set-aside = Entry { $entry } by { $who } is set aside and counts for nothing: { $field }: found { $found }; allowed: { $allowed }. It is kept. Enter what it meant once more if it matters, then withdraw it.
desks-disagree = Desks disagree: { $on }
marks-differ = Two entries of pilot { $pilot } in task { $task } differ. Choose one.
nothing-new = Nothing new.
entries-came = { $entries ->
    [one] 1 new entry
   *[other] { $entries } new entries
  } from { $source }.
chains-forked = { $chains ->
    [one] 1 desk went on in two copies of the event. Both are kept.
   *[other] { $chains } desks went on in two copies of the event. All are kept.
  }
left-behind = The folder holds what was set down, as it stands now. Left behind: { $publications ->
    [one] 1 publication
   *[other] { $publications } publications
  } (and which of them a complaint is about, or which entry a note), who entered what when ({ $entries ->
    [one] 1 entry
   *[other] { $entries } entries
  }), and { $old ->
    [one] 1 entry that was
   *[other] { $old } entries that were
  } replaced, withdrawn or undone, or did so. “sandtail archive” keeps them.
audit-counted = { $where }: { $entries ->
    [one] 1 entry
   *[other] { $entries } entries
  } of { $desks ->
    [one] 1 desk
   *[other] { $desks } desks
  }, { $files ->
    [one] 1 file
   *[other] { $files } files
  }, { $publications ->
    [0] nothing published
    [one] 1 publication
   *[other] { $publications } publications
  }{ $publications ->
    [0] .
   *[other] , { $again } of them computed again with the same bytes.
  }
audit-sound = Nothing was altered in what is here.
audit-sound-against = Nothing was altered in what is here, and it holds all that { $against } names.
audit-cannot-know = By itself it cannot show whether entries were cut off its end, or all of it was written anew. Hold it against what hangs in public or lies elsewhere: sandtail verify with --against and what a sheet says under “Entries and results”, another copy, or published files.
audit-head = All entries as they are now: { $head }
audit-not-sound = This event is NOT sound: see what is told above.
published-same = { $where }: { $files ->
    [one] 1 file is
   *[other] { $files } files are
  } byte for byte what went up.
recount-follows = { $where }: every rank, point, penalty and total follows from the others.
database-away = As of { $moment }. The database does not answer; what is entered now waits on this computer and is sent once it does.
copy-differs = { $where } does not go on from what this computer had read of it ({ $entries ->
    [one] 1 entry
   *[other] { $entries } entries
  }): it was restored from an older state, or written anew. What is shown is what the database holds now. What this computer had read is kept as the event file { $file }: look into it (sandtail log), and have its owner bring back what the database lacks (sandtail merge).
on-network = { $file } lies on a network drive. Such drives do not lock files reliably, so desks take turns there with a small file beside it; that is slow, and programs of older versions do not keep to it: never open it at two desks at once with those. Better give each desk a copy (sandtail copy), or keep the event in a database.
recount-cannot-know = By itself this file cannot show that what stands in it only once is as it went up: names, remarks and times of entries, and whose log is whose. Hold it against what a sheet says under “Entries and results” (--against), or against the event (--with).
recount-differs = { $where }: { $numbers ->
    [one] 1 number does
   *[other] { $numbers } numbers do
  } not follow from the others.
desk-forked = Desk { $desk } went on in two copies of the event, from entry { $entry }. Nothing is lost; look at what each copy entered.
clock-back = The clock of desk { $desk } was set back by { $back } before entry { $entry }. What was entered stands; times of its entries may be wrong.
term-complaint = complaint
term-protest = protest
complaints-counted = { $every ->
    [one] 1 complaint or protest
   *[other] { $every } complaints and protests
  }, { $open } open.
complaint-open = The { $level } of pilot { $pilot } (entry { $entry }) is open. Decide on it.
protest-time-open = The { $level } of pilot { $pilot } (entry { $entry }) is answered, and the rules leave open how long one may protest. Answer that rule.
protest-time-runs = The time to protest after the { $level } of pilot { $pilot } (entry { $entry }) runs until { $until }. Wait for it.

matter-placed = { $where }: { $text }
where-flight = flight { $flight }
where-task = task { $task }
where-pilot = { $pilot }
where-pilots = { $pilots }
where-many = { $pilots } pilots
where-mark = mark { $mark }
told-and-accepted = { $text } ({ $accepted })

refused-yet = These results cannot become { $stage } yet.
refused-no-task = The results hold no task { $tasks }. Score it first.
refused-final-task = Final results of task { $tasks } would be opened again. Say why.
refused-final-up = Final results are up. Say why they are opened again.
refused-overtaken = Somebody else put up version { $version } meanwhile, and these sheets say that number too. Publish again.
refused-no-official = No official results are up. Publish them first.
refused-clock = { $clock } Deadlines would be wrong. Set the clock, or have somebody look at it and give their name as you publish (on the command line --clock-confirmed-by).
clock-behind = This computer's clock is { $off } behind { $other }.
clock-ahead = This computer's clock is { $off } ahead of { $other }.
term-server-clock = the clock of the database server
term-an-entry = an entry
filed-late = The time to complain ended at { $until }.
filed-on-protest = It is about a protest, not about a complaint.
filed-on-open = The complaint it is about is not answered yet.
protested-late = The time to protest ended at { $until }.
answered-anew = In the place of: { $verdict } by { $by }: { $why }
heard-or-not = { $late } It is recorded, and whether it is heard is for officials.
refused-complaint-time = The time to complain runs until { $until }. Wait for it.
refused-changed = { $scores ->
    [one] 1 score differs
   *[other] { $scores } scores differ
  } from the official version { $version } (first: { $first }). Publish them as official again, for pilots to see.
refused-planned = Not flown yet: task { $tasks }. Only what was flown can become official. Set what was flown to flown and what will not be flown to cancelled, or publish the other tasks alone.
refused-nothing-flown = No task is flown yet. Only what was flown can become official.
holds-private = It holds what is private: { $what }. Give it to nobody who may not see that.
private-columns = the columns { $columns } of the roster
private-remarks = what officials wrote beside entries and reports
folder-adds = new: { $what }
folder-changes = changed: { $what }
folder-renumbers = { $now } has number { $new } now, not { $old }: all that was entered under { $old } goes with it
folder-other-person = number { $number } is another person: { $before } becomes { $now }, with all that was entered under it
folder-lacks = no longer in the folder, and left as it is: { $what } (entry { $entry })
as-meant-nothing = This matter proposes nothing that could be taken. Compare the entries with the sheet.
as-meant-taken = Another mark stands where this one belongs. Settle that one first.
correct-gone = Entry { $name } does not hold any more. Look it up in the journal.
correct-no-task = There is no task { $name }.
correct-no-pilot = There is no pilot { $name }.
correct-no-flight = There is no flight { $name }.
correct-no-log = There is no log { $name } in the event. Name it as `sandtail open-matters --all` and the pilots’ slips do; a new log comes in with its folder (import --into) or on page Flight logs.
correct-log-twice = Several flights have a log { $name }. Say with --flight which one is meant.
correct-no-point = There is no point { $name } in the event.
correct-no-setting = The event has no setting { $name }. `sandtail manual files` lists those of [event]; the terrain's file comes with a folder.
correct-no-prize = There is no prize { $name }.
beside-withdrawal = Entry { $entry } takes back what this changes, and is set aside, since others rest on that. Withdraw entry { $entry } first, then do this again: nothing is recorded yet.
withdraw-unfit = Entry { $entry }, { $what }, cannot be taken back, since others rest on it. Enter what is to hold in its place instead.
correct-number-taken = The number { $name } is another pilot's. Withdraw or renumber that one first.
correct-no-clash = No desk contradicts entry { $name }.
title-side-by-side = Standings, as they are and as they would be
head-rank-then = Rank then
head-total-then = Total then
opens = to look at: { $what }
is-closed = closes: { $what }
is-moved = { $place } is moved by { $away }, bearing { $bearing }
changes-nothing = This changes no result, rank or points.
only-tried = Nothing was recorded.
still-missing = Not accounted for after it, task { $task }: { $pilots }
entries-for = Entries for { $pilots }
recorded = { $entries ->
    [one] recorded 1 entry
   *[other] recorded { $entries } entries
  }
refused-stale = { $entries ->
    [one] 1 entry
   *[other] { $entries } entries
  } arrived after these results were computed (first: { $first }). Score again.
change = { $pilot }, { $what } ({ $reasons })
change-of = { $where }: { $numbers }
paper-of-another-version = The paper was made by { $program }; computed now, its numbers change:
in-standings = standings
same-numbers = the same numbers
term-nothing-before = none
changed-group = { $before } → { $after }
changed-result = result { $before } → { $after }
changed-measured = measured { $before } → { $after }
changed-number = number { $before } → { $after }
changed-rank = rank { $before } → { $after }
changed-score = score { $before } → { $after }
changed-total = total { $before } → { $after }
changed-task-penalty = penalty in task points { $before } → { $after }
changed-event-penalty = penalty in competition points { $before } → { $after }
changed-state = the task { $before } → { $after }
changed-kind = kind of task { $before } → { $after }
changed-P = pilots entered { $before } → { $after }
changed-A = pilots with a result { $before } → { $after }
changed-M = middle rank { $before } → { $after }
changed-W = best result { $before } → { $after }
changed-RM = result at the middle rank { $before } → { $after }
changed-SM = points of the middle rank { $before } → { $after }
pilot-entered-since = entered since the last version
pilot-no-longer-entered = no longer entered
mark-settled-since = the mark is settled now
mark-open-since = the mark is open again
entry-gone = no longer counted: { $entry }
entry-come = entered: { $entry }
penalty-told = { $amount } { $cause }, { $ruling }
penalty-plain = { $amount } { $cause }
penalty-gone = penalty taken off: { $penalty }
penalty-come = penalty added: { $penalty }
penalty-became = penalty: { $before } became { $after }
task-new = no results of the task were up
stage-back = Task { $task } is taken back: { $stage }, version { $version } → { $now }
stage-gone = Task { $task } is taken down: { $stage }, version { $version } → nothing up
task-gone = task no longer there
others-changed = other pilots' results changed
others-changed-so = other pilots' results changed: { $values }
totals-changed = other pilots' totals changed
see-tasks = see task { $tasks }
entry-made = { $what } by { $who }
entry-made-because = { $what } by { $who } { $why }
entry-first = { $kind } by { $who }, entry { $entry }

closes-pilots = Page { $page }; in a folder: pilots.csv
closes-places = Page { $page }; in a folder: places.geojson and event.toml
closes-tasks = Page { $page }; in a folder: the flight's flight.toml
closes-rules = Page { $page }; in a folder: the rules of event.toml
closes-no-elevation = Page { $page }, “The event…”; in a folder: ground_elevation in event.toml, or terrain.tif
closes-marks = Page { $page }; in a folder: the flight's marks.csv
closes-compare = Page { $page }; in a folder: a row of the flight's marks.csv that says why it settles the mark
closes-reports = Page { $page }; in a folder: the flight's reports.csv
closes-log-clock-alone = accept it to move the log’s times; nothing else waits for it
closes-logs = Page { $page }; in a folder: the flight's logs, with assigned.csv beside them
closes-infringements = Page { $page }; in a folder: a row of the flight's rulings.csv
closes-publish = Page { $page }
closes-complaints = Page { $page }; in a terminal: sandtail complaint EVENT decide
closes-journal = Page { $page }
closes-target-moved = Page { $page } for what is measured again, Places where the target itself stands wrong; in a folder: the flight's marks.csv, places.geojson
closes-declaration = Page { $page }; in a folder: the flight's declarations.csv
closes-mark-far-from-track = Page { $page }, with number, mark and log beside each other; corrected on Enter marks and Flight logs; in a folder: marks.csv, and assigned.csv beside the logs
closes-no-mark = Page { $page }, the mark or that none was found; in a folder: the flight's marks.csv
closes-unsettled = Page { $page }; in a folder: the flight's marks.csv, a row that says under settles why it holds
closes-keyed-once-only = Page { $page }, by somebody else; in a folder: a second row of the flight's marks.csv
closes-ruling-at-journal = Page { $page }, where the decision is reverted; in a folder: the flight's rulings.csv
closes-set-aside = Page { $page }, where the entry is withdrawn
closes-flight-lost = Page { $page }, where the withdrawal of the flight is reverted, or its entries are withdrawn
closes-conflict = Page { $page }, where one of the entries is chosen
closes-acceptance-gone = Page { $page }, where the acceptance can be withdrawn; in a folder: its row of accepted.csv
closes-times-by-log = Page { $page }, where the log is of another flight or pilot or its clock is wrong; Enter marks, where an entered time is; in a folder: the flight's logs, with assigned.csv beside them, or marks.csv
closes-mark-of-not-flown = Take back the report or the mark: page { $page } or Enter marks; in a folder: a row of the flight's reports.csv or marks.csv less
closes-not-flown = Page { $page } for what is missing, Observer reports where a pilot did not fly; in a folder: the flight's marks.csv or reports.csv
closes-log-clock-wrong = Accept it to move the log’s times; else the times that were noted, on page Enter marks
command-rules = sandtail correct { $event } rule { $rule } ANSWER --why REASON
command-no-elevation = sandtail correct { $event } setting ground_elevation METRES_OR_FEET --why REASON
command-pilots = sandtail correct { $event } row pilots number={ $pilot } COLUMN=TEXT --why REASON
command-places = sandtail correct { $event } move PLACE --lat-lon LAT LON --why REASON
command-tasks = sandtail correct { $event } task { $task } flown|planned|cancelled --why REASON
command-marks = sandtail correct { $event } row marks task={ $task } pilot={ $pilot } method=tape distance=… --why REASON
command-log-pilot = sandtail correct { $event } log { $log } { $pilot } --flight { $flight } --why REASON
command-log-unmatched = sandtail correct { $event } log { $log } { $pilot } --flight { $flight } --why REASON
command-compare = sandtail correct { $event } row marks task={ $task } pilot={ $pilot } method=tape distance=… settles=REASON --why REASON
command-reports = sandtail correct { $event } row reports task={ $task } pilot={ $pilot } kind=… --why REASON
command-infringements = sandtail correct { $event } row rulings task={ $task } pilot={ $pilot } finding={ $finding } decision=apply|waive reason=REASON --why REASON
command-mark-of-not-flown = sandtail withdraw { $event } { $entry } --why REASON
command-not-flown = sandtail correct { $event } not-flown --task { $task } --why REASON (who did not fly), or row marks …
command-conflict = sandtail correct { $event } holds { $entry } --why REASON
command-target-moved = sandtail correct { $event } row marks task={ $task } pilot={ $pilot } COLUMN=TEXT --instead { $entry } --why REASON
command-ruling-at-journal = sandtail withdraw { $event } { $entry } --why REASON
command-flight-lost = sandtail withdraw { $event } { $entry } --why REASON
command-set-aside = sandtail withdraw { $event } { $entry } --why REASON
command-acceptance-gone = sandtail withdraw { $event } { $entry } --why REASON
command-declaration = sandtail correct { $event } row declarations task={ $task } pilot={ $pilot } COLUMN=TEXT --why REASON
command-complaints = sandtail complaint { $event } decide N upheld|rejected --why REASON
closes-or-accept = { $how }. Or accept it as it stands, with a reason.
closes-or-acknowledge = { $how }. Or acknowledge it by name, with a reason.
closes-safety = Page { $page }, Places or Rules; in a folder: the flight's flight.toml, event.toml or places.geojson
closes-only = { $how }.
hidden-until-entered-twice = hidden until entered twice.
blocks-official = keeps results from official
accepted-ones = accepted as they stand
blocks-final = keeps results from final
blocks-nothing = worth knowing
decides-scoring = a scoring official
decides-director = the director
decides-jury = who hears complaints
accepted-as-it-is = accepted { $parts }
acknowledged = acknowledged { $parts }
acceptance-gone = { $what }: { $accepted }. Nothing of the kind is open there any more: what it was about was settled, corrected or taken back since. The acceptance counts for nothing and holds nothing up.
acceptance-lapsed = { $what }: { $accepted }. But what was accepted has changed since, so it is open again and waits for somebody to decide anew. Now it says: { $now }
acceptance-followed = { $lapsed } Entered about it since the acceptance: { $entries }.
more-worth-knowing = { $matters ->
    [one] 1 more matter is worth knowing
   *[other] { $matters } more matters are worth knowing
  } (--all lists them).
not-ready-official = Not ready to become official: { $matters ->
    [one] 1 matter is open.
   *[other] { $matters } matters are open.
  }
ready-official = Nothing keeps these from becoming official.

## Entries of marks
term-somebody = somebody
term-method-tape = distance
term-method-polar = distance and bearing
term-method-arcs = two distances
term-method-offset = distances along and off a line
term-method-grid = coordinates
term-method-latlon = latitude and longitude
term-method-log = from the log
term-method-none = no mark found
entry-tape = { $distance } by { $by }
entry-tape-from = { $distance } from { $start } by { $by }
entry-bearing = { $distance } at bearing { $bearing } from { $start } by { $by }
entry-arcs = { $distance } from { $start } and { $other } from { $end } ({ $side } of the line between them) by { $by }
entry-offset = { $distance } along the line from { $start } to { $end }, { $other } square to it ({ $side }) by { $by }
entry-coordinates = { $at } by { $by }
entry-log = from the log at { $at } by { $by }
entry-timed = { $entry }, dropped at { $at }
entry-none = no mark found by { $by }
term-the-target = the target
term-either = on either side
entry-as-entered = { $method } { $text } by { $by }

entries-differ = Two entries differ by { $gap }: { $entries }. Choose one; { $tolerance } is allowed.
entries-differ-in-time = Two entries give different times of the mark: { $entries }. Choose one.
entries-not-comparable = Two entries measure different things: { $entries }. Choose one.
no-mark-and-distance = A mark stands beside “no mark found”: { $entries }. Choose one.
entry-contradicts-settled = Entered against what was settled, { $how }: { $entries }. For now { $settled } counts. Decide again.
apart-by = { $gap } apart
not-the-same = not the same measurement
settled-in-two-ways = Settled in two ways: { $entries }. Choose one.
drop-time-not-noted = The time at which the marker fell is not noted, and the rules want it. The mark counts for now. Enter the time, or accept that nobody noted it.
measurer-not-noted = Who measured the mark is not noted, and the rules want it. The mark counts for now. Enter who measured, or accept that nobody noted it.
keyed-once-only = Entered by one person only: { $entries }. Somebody else must enter it again.
survey-open = The measurements by { $by } do not fit together. { $why }
cannot-be-reduced = { $entries } gives no mark: { $why }. Correct the entry.
mark-of-not-flown = Reported as not flown by { $by }, but a mark is entered: { $entries }. For now “did not fly” counts. Withdraw the report or the mark.
mark-missing = Flew, but no mark is entered: no result for now. Enter the mark, or that none was found.
mark-missing-many = { $pilots } pilots: no mark is entered though they flew, no results for now. Enter the marks, or that none was found.

step-of-mark = mark { $mark }: { $step }
step-entered = entered by one person only: { $entry }
step-entries-agree = { $entries } entries agree; counted: { $entry }
step-entries-settled = settled: { $entry }, because: { $reason }
step-entries-adjusted = { $measurements } measurements by { $by } adjusted together, of { $entered } entered
step-entries-open = open: { $why } The mark for now: { $entry }

## What two entries of one mark look like beside each other
slip-same-digits = The same digits with another point or unit: { $one } and { $other }.
slip-swapped = Two digits swapped ({ $first } and { $second }): { $one } and { $other }.
slip-left-out = A digit left out or entered twice: { $one } and { $other }.
slip-one-digit = One digit differs: { $one } and { $other }.
slip-same-number = The same number in { $unit } and in { $other_unit }: { $number }.
slip-feet-metres = Feet against metres: { $one } and { $other }.
slip-centimetres-metres = Centimetres against metres: { $one } and { $other }.
slip-inches-feet = Inches against feet: { $one } and { $other }.
slip-decimal-point = The decimal point one place off: { $one } and { $other }.
slip-feet-inches = Feet and inches against decimal feet ({ $text } may mean { $feet } ft { $inches } in): { $one } and { $other }.

## Task kinds
task-kind-pdg = Pilot declared goal
task-kind-pdg-about = the distance from the mark to the nearest valid goal the pilot declared
task-kind-jdg = Judge declared goal
task-kind-jdg-about = the distance from the mark to the set goal
task-kind-hwz = Hesitation waltz
task-kind-hwz-about = the distance from the mark to the nearest of several goals
task-kind-fin = Fly in
task-kind-fin-about = the distance from the mark to the target, or to the nearest of several
task-kind-fon = Fly on
task-kind-fon-about = the distance from the mark to the nearest valid goal declared in flight
task-kind-hnh = Hare and hounds
task-kind-hnh-about = the distance from the mark to the hare’s target
task-kind-wsd = Watership down
task-kind-wsd-about = the distance from the mark to the hare’s target, after flying in to where the hare takes off
task-kind-gbm = Gordon Bennett memorial
task-kind-gbm-about = the distance from a mark inside a scoring area to the goal
task-kind-crt = Calculated rate of approach
task-kind-crt-about = the distance to the target from a mark that fell in a scoring area while it was valid
task-kind-rta = Race to an area
task-kind-rta-about = the time from the start to the scoring area
task-kind-elb = Elbow
task-kind-elb-about = how far the flight turned at B: 180° minus the angle ABC
task-kind-lrn = Land run
task-kind-lrn-about = the area of the triangle ABC
task-kind-mdt = Minimum distance
task-kind-mdt-about = the distance from the reference point to a mark, after a least time or way flown
task-kind-sfl = Shortest flight
task-kind-sfl-about = the distance from the reference point to a mark inside a scoring area
task-kind-mdd = Minimum distance double drop
task-kind-mdd-about = the distance between marks A and B in different areas
task-kind-xdt = Maximum distance time
task-kind-xdt-about = the distance from the reference point to a mark within a greatest time
task-kind-xdi = Maximum distance
task-kind-xdi-about = the distance from the reference point to a mark inside a scoring area
task-kind-xdd = Maximum distance double drop
task-kind-xdd-about = the distance between marks A and B
task-kind-ang = Angle
task-kind-ang-about = the angle between the set direction and the line from A to B
task-kind-gas = Long-distance race
task-kind-gas-about = the distance from launch to landing along the Earth’s surface, whatever the route and the time
task-kind-3dt = 3D shape
task-kind-3dt-about = the way flown inside the airspace of the task, by the log

## Place kinds
place-kind-target = Target
place-kind-target-about = where marks should fall; tasks name it
place-kind-goal = Goal
place-kind-goal-about = a point that pilots may declare or be set as their goal
place-kind-reference = Reference point
place-kind-reference-about = a point that marks are measured from or a task counts from
place-kind-task-area = Task area
place-kind-task-area-about = ground shown on maps; rules name it where they need it
place-kind-boundary = Boundary
place-kind-boundary-about = ground to stay within, or within which the minimum height holds: rules name it
place-kind-launch-area = Launch area
place-kind-launch-area-about = ground to launch from, where the rule on launch places names it
place-kind-scoring-area = Scoring area
place-kind-scoring-area-about = where marks count and the minimum height ends; tasks name it
place-kind-prohibited = Prohibited airspace
place-kind-prohibited-about = air not to be flown in, between its limits above mean sea level; without limits, at all heights
place-kind-power-line = Power line
place-kind-power-line-about = wires that may kill; a line, a point or an area; drawn on maps, never complete
place-kind-obstacle = Obstacle
place-kind-obstacle-about = a mast, tower, cable or the like; a line, a point or an area; drawn on maps, never complete

## Safety of events and tasks
matter-safety = safety
launch-in-the-dark = The launch period opens at { $opens }, in the dark{ $how }. The director answers for it.
landing-in-the-dark = The last marks count until { $closes }, after dark{ $how }. The director answers for it.
sun-rises = ; the sun rises at { $at }
sun-sets = ; the sun sets at { $at }
sun-unknown = {""}
minimum-of-nothing = The minimum height is { $minimum }. Nothing keeps balloons off the ground and off people.
tolerance-eats-minimum = { $tolerance } is let pass of a minimum height of { $minimum }: no height breaks the rule.
least-time-long = Flight under the minimum height counts only from { $least } on. What a log can tell needs a few seconds.
low-flight-pays = Half the minimum height costs { $points } of 1000 points: low flight may pay. Your event must choose.
near-forbidden = { $place } ({ $kind }) lies { $away } from { $from }.
on-the-way = { $place } ({ $kind }) lies between { $launch } and { $target }.
overlaps-forbidden = { $from } and { $place } ({ $kind }) overlap.
within-forbidden = { $from } lies within { $place } ({ $kind }).
higher-than-minimum = { $place } ({ $kind }) stands { $height } high: to keep to the minimum height of { $minimum } does not clear it.
kind-and-height = { $kind }, { $height } high
safety-told = Safety: { $what }
safety-to-acknowledge = Whoever answers for it acknowledges each point by name, with a reason: sandtail accept; in the window, on the page Open matters.
safety-defers = Nothing here says that it is safe to fly. The aviation authority, the event's waiver, the director and licensed pilots decide that.

## Log formats
log-format-igc = IGC
log-format-igc-about = files of flight recorders and of most flying apps: fixes with pressure and satellite altitudes, the logger’s marks, the pilot’s declarations
log-format-gpx = GPX
log-format-gpx-about = tracks and waypoints of hand-held receivers and maps; a track may be in several pieces
log-format-nmea = NMEA 0183
log-format-nmea-about = what a satellite receiver says line by line, as recorded
log-format-csv = Table
log-format-csv-about = a header row, then a fix a line: time, latitude and longitude, altitudes where there are any

## Sheets
sheet-workbook = Workbook
sheet-workbook-about = standings and every task with formulas that show how points come about
sheet-board = Notice board
sheet-board-about = standings and tasks on paper, to be pinned up. A later publication has the standings and the tasks that changed; board.json says of which version each is
sheet-slips = Slips
sheet-slips-about = a slip for each pilot: marks, result, points, infringements, with pictures; short ones share a page. A later publication has those that changed; slips.json says of which version each is
sheet-awards = Award list
sheet-awards-about = places one to three of each task, each class and the whole event, to be read out
sheet-data = Data
sheet-data-about = results.json with its schema, every table as CSV (csv-metadata.json says what is in them) and JSON, marks and places as GeoJSON, for programs
sheet-tracks = Tracks
sheet-tracks-about = the flights as GeoJSON, KML and GPX, one file each a flight
sheet-site = Pages
sheet-site-about = pages for phones and any web host
sheet-field-forms = Field forms
sheet-field-forms-about = two forms for each task, on which the measuring crew writes what it measures: pilots by number, and blank lines for marks as they are found
sheet-task-sheets = Task sheets
sheet-task-sheets-about = a sheet for each flight: its tasks with all that is set for them, for the briefing

## Files and their columns
table-pilots-about = the pilots who are entered; columns beyond these are kept and shown
column-pilots-number = competition number, once in the event
column-pilots-name = the pilot’s name
column-pilots-registration = of the balloon
column-pilots-class = class, where each class has its own standings
column-pilots-country = the pilot’s country
column-pilots-enters = number of the first task the pilot takes part in; empty = from the first
column-pilots-leaves = number of the task from which the pilot takes no part any more, nor counts among those entered; what was before stays; empty = stays, unless a report says withdrawn
column-pilots-competes = no = out of competition: shown, in no rank
column-pilots-papers = papers seen: yes, no, or the last day they hold; never published
column-pilots-waiver = waiver signed; never published
column-pilots-logger = serial of the pilot’s logger, as in the head or the name of its files
table-marks-about = a row for each measured mark as one person entered it; two rows by two people are two entries of it
column-marks-task = the task’s number
column-marks-pilot = competition number
column-marks-mark = which of the pilot’s marks, where the task has several
column-marks-method = how it was measured
column-marks-distance = distance as measured; under tape from the target
column-marks-bearing = direction from where it was measured
column-marks-from = point it was measured from
column-marks-distance2 = second distance: under arcs from the second point, under offset square to the line
column-marks-from2 = second point
column-marks-side = side of the line between both points, looking from the first
column-marks-easting = grid coordinate, east
column-marks-northing = grid coordinate, north
column-marks-lat = latitude, WGS84
column-marks-lon = longitude, WGS84
column-marks-unit = unit of bare distances in this row; empty = the event’s
column-marks-time = when the mark fell; under log the moment whose place counts
column-marks-measurer = who measured it: a person or a team
column-marks-by = who entered it
column-marks-note = a remark
column-marks-settles = the reason, where this row decides between entries that differ
column-marks-between = with a reason: the entries it decides between; empty = those of two people at most, one value of each
table-declarations-about = goals that pilots declared, in the order given
column-declarations-task = the task’s number
column-declarations-pilot = competition number
column-declarations-goal = name of a goal, or coordinates as the task allows
column-declarations-height = declared height above mean sea level
column-declarations-time = when it was declared
column-declarations-place = where it was declared
column-declarations-by = who took it down
column-declarations-note = a remark
table-reports-about = what observers and officials saw
column-reports-task = the task’s number
column-reports-pilot = competition number
column-reports-kind = what was seen; withdrawn = takes no part from this task on, just as if “leaves” of the roster named it
column-reports-time = when
column-reports-value = how much: a height, a distance or how long
column-reports-unit = unit of a bare value
column-reports-by = who saw it
column-reports-note = what was seen, in words
table-targets-about = when targets were seen clear of other balloons, opened, closed and moved
column-targets-task = the task’s number
column-targets-target = name of the target; empty = the task’s first
column-targets-event = clear = the field was seen clear of other balloons, opened, closed, moved
column-targets-time = when
column-targets-by = who saw or did it
column-targets-note = a remark
column-targets-easting = of a moved target: where it stands from then on, grid coordinate, east
column-targets-northing = grid coordinate, north
column-targets-lat = of a moved target: latitude, WGS84
column-targets-lon = longitude, WGS84
table-rulings-about = what officials decided on infringements
column-rulings-task = the task’s number; empty for competition points of the whole event
column-rulings-pilot = competition number
column-rulings-finding = the infringement decided on: its kind, or its identifier where there are several; empty where there is none
column-rulings-decision = on an infringement: apply = confirmed, waive = waived, set = another amount, hold = the pilot is asked; without one: impose = added, bonus = points given, result = the result of the task, score = its score, average = the mean of the pilot’s other scores
column-rulings-amount = how much; empty with apply, waive, hold and average. With metres a length may name its unit: "20 ft"
column-rulings-unit = in what it is paid
column-rulings-rule = the paragraph it rests on
column-rulings-reason = the reason, shown to the pilot
column-rulings-by = who decided
column-rulings-at = when it was decided
column-rulings-from = beginning of the infringement when it was decided on
column-rulings-to = its end then
column-rulings-measured = its measured value then
table-assigned-about = whose a log is, where nothing in it tells
column-assigned-log = name of the file in the folder of logs
column-assigned-pilot = competition number
table-complaints-about = complaints and protests with their answers; no score depends on them
column-complaints-task = the task’s number; empty = the event as a whole
column-complaints-pilot = competition number
column-complaints-number = by which other rows name it
column-complaints-kind = complaint, or protest against an answer
column-complaints-against = number of the complaint that a protest is about
column-complaints-text = what the pilot says
column-complaints-by = who took it down
column-complaints-at = when it was filed
column-complaints-note = a remark
column-complaints-outcome = the answer; empty = open
column-complaints-reason = the reason of the answer
column-complaints-decided-by = who decided
column-complaints-decided-at = when it was decided
table-notes-about = notes that change no result
column-notes-at = when
column-notes-text = the note
column-notes-by = who made it
table-accepted-about = open matters that an official let stand as they are, with the reason; `sandtail accept` writes the rows
column-accepted-kind = the kind of matter
column-accepted-flight = its flight
column-accepted-task = its task
column-accepted-pilots = whom it is about
column-accepted-mark = which mark it is about
column-accepted-matter = the sign of the matter as it stood; once it changes, the row no longer counts
column-accepted-why = the reason
column-accepted-by = who accepted it
column-accepted-at = when

## How cells are written
written-text = text
written-number = a number
written-whole = a whole number from 1 up
written-task = number of a task of this flight
written-pilot = a competition number of the roster
written-place = name of a point of places.geojson
written-length = a length: 12.34, 12.34 m, 40 ft 3.5 in; a bare number is in `unit`, else in the event’s unit
written-bearing = degrees from grid north; T after it = true, M = magnetic north
written-latitude = degrees, or degrees and minutes, with N or S
written-longitude = degrees, or degrees and minutes, with E or W
written-time = local time HH:MM or HH:MM:SS, its date before it where it is another day
written-moment = date and local time: 2026-09-12 11:20
written-measured = a length or a duration with its unit
written-papers = yes, no, or a date: 2027-03-31
written-numbers = numbers with spaces between

## The manual
manual = The manual of Sandtail
manual-contents = Contents
manual-morning = Tutorial: a morning of a small event
manual-window = The window, page by page
manual-official = How a rules official decides
manual-pilot = How a pilot reads a slip
manual-desks = Several desks, network and clocks
manual-work = What each command is for
manual-folder = An event folder, written by hand
manual-times = Times: zones, nights, clocks
manual-offline = Installing without a network
manual-licence = Licences
manual-files = Files of an event folder and their keys
manual-columns = Columns of its tables
manual-places = Kinds of places
manual-tasks = Kinds of tasks
manual-rules = Rules
manual-log-formats = Flight logs that can be read
manual-infringements = Infringements that are looked for
manual-matters = Open matters
manual-journal = Entries of an event’s journal
manual-sheets = Sheets that can be written
manual-commands = Commands
manual-schema = The form of results.json, as a JSON schema
manual-files-written = Times are local, HH:MM or HH:MM:SS; lengths are text with a unit, "75 ft". Tables are UTF-8 with commas or semicolons and a header row; lines that begin with # are passed over. A fault names file, line and field; all are told at once.
manual-places-written = A GeoJSON FeatureCollection (RFC 7946) with WGS84 longitude and latitude. Each feature has `name`, once in the event, and `kind` among its properties.
manual-log-formats-told = The content of a file tells its format; its ending is asked where the content says nothing.
manual-unit-m = metres
manual-unit-km = kilometres
manual-unit-deg = degrees
manual-unit-km2 = square kilometres
manual-unit-s = seconds
manual-worked = One pilot’s result of each kind, worked out by hand. Places, marks and flights are metres east and north of one point of the map grid; those of the race are latitudes and longitudes. The tests of the program score all of them.
manual-worked-kind = kind
manual-worked-task = the task says
manual-worked-places = places
manual-worked-evidence = marks, declarations and log
manual-worked-sum = result
manual-worked-declared = { $goal } declared at 06:40
manual-worked-log = flown straight and evenly from { $start } at { $begun } to { $end } at { $ended }
manual-needs-target = it must give its target or goal
manual-needs-area = it must give a scoring area
manual-needs-roles = points and marks are called
manual-needs-one-of = it must give one of
manual-needs-declarations = pilots declare their goals: declarations.csv, or the log
manual-needs-no-mark = no mark is needed: the log alone can give the result
manual-default = default
manual-rule-choice = One of a list
manual-rule-length = A length, "75 ft"
manual-rule-step = A step in feet or inches, "1/2 in"
manual-rules-paragraphs = Each of these tables may say where the event’s own rules have it: `source = "§ 9.4"` for all its keys, or `source = { "{" } height = "§ 9.4" { "}" }` for single ones. The paragraph then stands wherever the rule does.
manual-rule-duration = A duration, "3 s"
manual-rule-count = A whole number
manual-rule-counts = A list of whole numbers
manual-rule-text = Text
manual-rule-name = A place’s name
manual-rule-share = A number from 0 to 1
manual-rule-yes-no = true or false
manual-rule-penalties = A table such as { "{" } unit = "task points", per = 1, of = "ft", cap = 500 { "}" }, or several in a list; "no result" or "disqualified" stands alone
manual-blocks-official = Keeps results from becoming official
manual-blocks-final = Keeps results from becoming final
manual-blocks-nothing = Keeps results from nothing
manual-closes-pilots = closed among the pilots
manual-closes-places = closed among the places
manual-closes-tasks = closed among the tasks
manual-closes-rules = closed among the rules
manual-closes-marks = closed among the marks
manual-closes-compare = closed where entries are compared
manual-closes-reports = closed among the reports
manual-closes-logs = closed among the flight logs
manual-closes-infringements = closed among the infringements
manual-closes-publish = closed before publishing
manual-closes-complaints = closed among the complaints
manual-closes-journal = closed in the journal
manual-acceptable = an official may accept it as it stands
manual-settled-only = it can only be settled
manual-goes-up = goes up with a publication
file-event-toml = the event and its rules
file-flight-toml = one flight: its day and its tasks; FLIGHT is any name
file-places-geojson = targets, goals, reference points and areas
file-logs = the flight logs
file-air-json = with what air the logs were read when results first went up; written by export, not by hand. Without the file, the air is found from all logs
level-elevation-m = height of the ground there, metres above mean sea level
level-lower-m = lower limit, metres above mean sea level; left out = the ground
level-height-m = how high it stands, metres above the ground; left out = not known
level-upper-m = upper limit, metres above mean sea level; left out = none
log-format-archive = many logs in one file, of any of these formats
key-event-name = the event’s name
key-event-venue = where it is held
key-event-time-zone = IANA name of the time zone, "Europe/Madrid"
key-event-crs = projected reference system in metres, "EPSG:25830"
key-event-units = how people read and enter lengths: "metric" or "imperial"
key-event-distance = on which surface distances are meant: "ground", "grid" or "ellipsoid"
key-event-terrain = name of the elevation grid in the folder
key-event-terrain-sigma = standard uncertainty of the grid, "5 m"
key-event-ground-elevation = height of the ground where no terrain covers it, "640 m"
key-event-public-columns = further columns of the roster that may be published; all others are private. "note" releases what officials wrote beside entries and reports
key-event-declination = magnetic declination in degrees, east positive
key-event-survey = standard uncertainties of measurements that differ from the usual ones
key-flight-date = local date, 2026-09-12
key-flight-qnh-hpa = air pressure at mean sea level, hPa
key-flight-temperature-c = temperature at the ground, °C
key-flight-note = a remark
key-flight-task = the tasks, each under [[task]]
key-task-number = the task’s number, once in the event
key-task-kind = code of the kind of task
key-task-target = name of the target or goal
key-task-targets = several names, or names by role: { "{" } A = "bridge" { "}" }
key-task-scoring-area = name of the scoring area
key-task-scoring-areas = several of them
key-task-launch-period = ["06:45", "07:30"]
key-task-scoring-period = ["07:00", "09:30"]
key-task-measuring-radius = distance beyond which a mark is not taped, "100 m"
key-task-marker = colour of the marker
key-award-name = what the prize is called
key-award-for = "overall", "class", "team", "day" or "task"
key-award-task = number of the task it is for; nothing = each task
key-award-day = the day it is for; nothing = each day
key-award-class = the class among whom it is given; nothing = each class, or everybody
key-award-places = how many places; nothing = 3
key-award-ties = "shared" = equal places share it, "counted back" = more first places in tasks go before, then more second ones; in one task the better place in the standings
key-task-state = "planned", "flown" or "cancelled"; where it says nothing: planned until a mark, report, decision or log is in
key-task-rules = rules of this task alone, as under [rules]

## Cautions: the authority, the waiver, the director and licensed pilots come first
caution = Results and heights are evidence for a sport, computed after the flight, with stated uncertainty. They are not for navigation and do not say whether a flight was lawful or safe. The aviation authority, the event's waiver, the event director and licensed pilots come first.
caution-rules = These are rules of a sport. The aviation authority, the event's waiver, the event director and licensed pilots come first.
caution-short = Computed afterwards, with stated uncertainty: evidence for a sport, not for navigation, not that a flight was lawful or safe. Authority, waiver, director and licensed pilots come first.
caution-low = Low flight near people, power lines and obstacles can kill: a minimum height is a limit of the game, never a statement that flying at it is safe.
caution-winds = Drift of balloons that have landed: it tells what the wind was, layer by layer, not what it is or will be. It is no forecast: brief from the official weather. The aviation authority, the event's waiver, the event director and licensed pilots come first.
caution-map = Not for navigation: outlines as the event set them, no ground detail.

## Results told in short
rules-of-event = Rules: { $rules }
task-title = Task { $task } · { $kind } ({ $code })
task-of-flight = { $title }, flight { $flight }
task-cancelled-title = { $title }: cancelled, counts nothing
task-planned-title = { $title }: not flown yet, gives no points
of-day = { $flight } of { $day }
formula-line = { $entered } entered, { $scorers } with result, median rank { $median } ({ $at_median }, { $points ->
    [one] 1 point
   *[other] { $points } points
  }), best { $best }
formula-withdrawn = { $line }; withdrawn before it: { $pilots }
formula-entered-once = { $line }; { $once } of { $marks } marks entered by one person only
task-after-withdrawal = { $title }: withdrawn before it, no score
formula-nobody = { $entered } entered, nobody has a result
formula-places = { $entered } entered, { $scorers } with result, best { $best }; points for each place
formula-none = { $entered } entered, { $scorers } with result, best { $best }; no points, places go by result
best-smallest = the smallest result is best
best-greatest = the greatest result is best
term-group-a = with result
term-group-b = flew, no result
term-group-c = did not fly
term-disqualified = disqualified
term-verdict-clear = no infringement
term-verdict-possible = possible
term-verdict-certain = certain
none = none
no-result = no result
not-settled-yet = not settled
not-settled = not settled: the entries differ
metres-penalty = penalty { $penalty }
remark-penalty = { $cause }: { $amount }
remark-waived = infringement waived
remark-undecided = infringement not yet decided
remark-entered-once = entered by one person only
amount-not-counted = { $amount } (not counted)
and-event-points = { $penalty } (and { $points } of the total)
worth-measuring = Worth measuring again: { $better } and { $worse } (their order is wrong with a chance of { $chance })
worth-measuring-equal = Worth measuring again: { $better } and { $worse } (equal as ranked)
in-brackets = { $count ->
    [one] The best task counts; others stand in brackets.
   *[other] The best { $count } tasks count; others stand in brackets.
  }
in-brackets-events = { $count ->
    [one] The best event counts; others stand in brackets.
   *[other] The best { $count } events count; others stand in brackets.
  }
no-faults = { $event }: no faults. { $pilots ->
    [one] 1 pilot
   *[other] { $pilots } pilots
  }, { $places ->
    [one] 1 place
   *[other] { $places } places
  }, { $flights ->
    [one] 1 flight
   *[other] { $flights } flights
  }, { $tasks ->
    [one] 1 task
   *[other] { $tasks } tasks
  }, { $marks ->
    [one] 1 entry of a mark
   *[other] { $marks } entries of marks
  }, { $logs ->
    [one] 1 flight log
   *[other] { $logs } flight logs
  }.
rules-scored-by = { $event }: the rules it is scored by
rule-answered = { $by }, { $at }
rule-answered-because = { $by }, { $at }: { $why }
rules-of-task = { $title } has rules of its own:
written = Written: { $files }
output-lost = The work is done, but what it prints could not be written: { $error }. Give the output another place, or make room there; for what it says, run a command that only reads, such as score or open-matters.
system-failed = Stopped, since this computer refused something: { $error }. All that was recorded before is kept. Put that right (room on the disk, rights to files, memory, number of programs that run) and run the command again.
files-below = wrote { $files ->
    [one] 1 file
   *[other] { $files } files
  } below { $folder }
pages-written = wrote { $files ->
    [one] 1 file
   *[other] { $files } files
  }; open { $first }
put-up-with = { $headline }, entry { $entry }, { $files ->
    [one] 1 file
   *[other] { $files } files
  }
entries-taken = { $file }: { $entries ->
    [one] 1 entry
   *[other] { $entries } entries
  } from { $source }
whole-copy = { $file }: { $entries ->
    [one] 1 entry
   *[other] { $entries } entries
  }, a whole copy
look-at = Look at: { $what }
season-entered-since = { $event } counts as put up in version { $version }. { $entries ->
    [one] 1 entry was
   *[other] { $entries } entries were
 } made since. Publish it again, or score all events now (--afresh).
season-still-open = { $event }: something is open or not decided, so its points may still change.
season-without-points = { $event } gives no points and adds none. Say what each place is worth (--places 25,20,16,...).
season-twice = { $event } is given more than once.
season-entered-twice = “{ $pilot }” is entered { $times } times in { $event }, as { $numbers }. They were joined and the last counts. Join by number too.
season-several-numbers = “{ $pilot }” has numbers { $numbers }: kept apart. If it is one person, join by name (--by-name) or give one number.
season-several-names = Number { $number } is “{ $one }” and “{ $other }”: kept apart. If it is one person, write the name alike in both lists of pilots.
event-number = Event { $number }: { $event }
no-winds = { $flight }: no log shows the wind
not-shown = Not shown, for want of room: { $columns }

## Headings of tables
head-rank = Rank
head-number = No.
head-pilot = Pilot
head-country = Country
head-class = Class
head-group = Flown
head-result = Result
head-sigma = ±
head-points = Points
head-penalty = Penalty
head-score = Score
head-places = Places 95 %
head-remarks = Remarks
head-task = Task
head-task-number = Task { $task }
head-event-number = Event { $number }
head-infringement = Infringement
head-sure = Sure
head-chance = Chance
head-decision = Decision
head-seen = What was seen
head-matter = Matter
head-blocks = Holds up
head-flight = Flight
head-to-know = What to know
head-total = Total
head-team = Team
head-team-pilots = Pilots that count
head-competition-penalty = Competition penalty
head-task-penalty = Task penalty
head-height = Height above the ground
head-wind-from = From, true
head-wind-speed = { $unit }
head-wind-spread = Spread { $unit }
head-wind-minutes = Balloon minutes
head-wind-balloons = Balloons
source-event-must-say = the event must say
head-rule = Rule
head-value = Value
head-source = Where it comes from
head-key = Key in the event's file
head-kind = Kind
head-state = State
head-unit = Unit
head-best = Best
head-flown = Flown
head-measured = Measured
head-metres-penalty = Metres added
head-formula-points = Points
head-rank-low = Best rank (95 %)
head-rank-high = Worst rank (95 %)
head-settled = Settled
head-infringements = Infringements
head-why = Why no result
head-method = Method
head-distance-m = Distance, m
head-sigma-m = Uncertainty, m
head-uncertainty = Uncertainty
head-lat-deg = Latitude, °
head-lon-deg = Longitude, °
head-time-utc = Time, UTC
head-steps = How
head-bearing-deg = Bearing, °
head-north = North
head-from = From
head-distance2-m = Second distance, m
head-from2 = Second from
head-side = Side
head-easting-m = Easting, m
head-northing-m = Northing, m
head-by = By
head-entered-by = Entered by
head-note = Note
head-settles = Settles, because
head-entered = Entered
head-as-entered = As entered
head-probability = Probability
head-from-utc = From, UTC
head-to-utc = To, UTC
head-duration-s = Duration, s
head-limit = Limit
head-excess = Excess
head-penalty-proposed = Penalty proposed
head-counted = Penalty counted
head-in-words = In words
head-evidence = Evidence
head-sha256 = SHA-256
head-sha256-of-evidence = SHA-256 of the evidence
head-amount = Amount
head-counts = Counts
head-sum = How it comes about
head-reason = Reason
head-at = At
head-accepted = Accepted
head-log = Log
head-fixes = Fixes
head-launch-utc = Launch, UTC
head-launch-lat-deg = Launch latitude, °
head-launch-lon-deg = Launch longitude, °
head-landing-utc = Landing, UTC
head-landing-lat-deg = Landing latitude, °
head-landing-lon-deg = Landing longitude, °
head-highest-m = Highest above ground, m
head-height-checked = Height checked on the ground
head-notes = Notes
head-height-m = Height above ground, m
head-from-deg = From, ° true
head-speed-m-s = Speed, m/s
head-spread-m-s = Spread, m/s
head-balloons = Balloons
head-seconds = Flying time, s
head-with-result = With result
head-median-rank = Median rank
head-best-result = Best result
head-at-median = Result at the median
head-median-points = Points at the median
head-result-as-read = Result as read
head-published = Score as published
head-measured-in = Measured, { $unit }
head-result-in = Result, { $unit }
head-own = { $name }
list-standings-teams = Team standings
list-tasks = Tasks
list-scores = Task scores
list-marks = Marks
list-entries = Entries of marks
list-infringements = Infringements
list-penalties = Penalties
list-decisions = Decisions
list-open-matters = Open matters
list-logs = Logs
list-winds = Wind as flown
list-pilots = Pilots
page-front = Front
page-standings = Standings
page-class = Class { $name }
page-task = Task { $task }
title-standings = Standings
title-standings-class = Standings of class { $name }
title-standings-teams = Standings of teams
title-infringements = Infringements
title-open-matters = Open matters
title-winds = Flight { $flight } of { $day }
title-season = Season
title-season-class = Season, class { $name }
holds-up-official = official
holds-up-accepted = accepted
told-in-short = So large an event is told in short on a terminal: “--task N” prints a task with all its scores and infringements, “--out FOLDER” writes everything, and so does what goes on to a file or a pager.
see-open-matters = The command “open-matters” says what closes each.
holds-up-final = final

## A pilot's breakdown
explain-title = { $pilot }, { $event }
explain-task = { $title }, flight { $flight } of { $day }
explain-task-planned = { $title }, flight { $flight } of { $day }: not flown yet
explain-task-cancelled = { $title }, flight { $flight } of { $day }: cancelled
explain-evidence = Evidence
explain-result = Result
explain-points = Points
explain-infringements = Infringements and penalties
explain-score = Score
explain-total = Total { $total }, rank { $rank } of { $field }
explain-entry = { $mark }: { $entry }
explain-mark = mark
explain-mark-named = mark { $mark }
explain-note = note: { $note }
explain-declared = declared "{ $goal }"
explain-declared-at = declared "{ $goal }" at { $at }
explain-log = flight log { $log }, { $fixes ->
    [one] 1 fix
   *[other] { $fixes } fixes
  }, SHA-256 { $sha256 }
explain-no-log = no flight log
explain-spread = measured to { $give_or_take } in two cases of three
explain-not-settled = Not settled: this result cannot become official yet.
explain-rule = rule: { $rule }
explain-equal = equal with { $others }; rule: { $rule }
explain-seen = { $what }, { $sure } ({ $chance }), { $when }: { $seen }
explain-from-to = { $start } to { $end }
explain-not-timed = time not noted
explain-asks = the rules ask for: { $amounts }
explain-asks-nothing = the rules ask for nothing by themselves: officials decide
file-and-line = { $file } line { $line }
explain-based-on = evidence: { $evidence }
explain-based-on-log = evidence: { $evidence }, SHA-256 { $sha256 }
explain-undecided = not yet decided; counted for now: { $costs }
explain-undecided-possible = not yet decided; not counted for now
explain-decided = { $ruling }; counted: { $costs }
explain-waived = { $ruling }; counted: nothing
explain-added = added by an official: { $amount }
term-nothing = nothing
cited-rule = rule: { $rule }
explain-rank = rank { $rank } of { $field }, { $group }
explain-range = within the uncertainty of the measurements the place is { $low } to { $high } (95 %)
explain-task-score = task { $task }: { $score }
explain-task-left-out = task { $task }: { $score } (does not count: not among the best)
explain-competition-points = competition points: −{ $points }
explain-tie = equal with others; rule: { $rule }
explain-class = class { $name }: rank { $rank } of { $field }

## Sheets
headline-draft = Draft, not published
headline-of-parts = { $tasks }, standings: { $standings }
headline-of-tasks = { $state }, version { $version }, task { $tasks }
rests-on = { $tasks }
rests-on-task = task { $task }: { $stage }
headline = { $state }, version { $version }
term-state-provisional = Provisional
term-state-official = Official
term-state-final = Final
published-at = Published { $at }
not-published = Not published
not-yet = not published
fact-event = Event
fact-venue = Venue
fact-state = State
fact-rests-on = Rests on
fact-why = Reason
fact-published = Published
fact-published-by = Published by
fact-complaints = Complaints until
fact-rules = Rules
fact-head = Entries and results
code-head = For sandtail verify
fact-hash = Results SHA-256
fact-caution = Caution
hash-in-short = Results SHA-256 { $hash }
slip-task = { $title }: { $result }, rank { $rank }, score { $score }
page-of = Page { $page } of { $pages }
task-in-short = Task { $task }: { $kind }
legend-dash-points = A dash: not entered in this task; it adds nothing.
legend-dash-result = A dash: no result in this task, or not entered in it; it adds nothing.
legend-competition-penalty = Competition penalty: points taken from the total.
sign-not-printed = No font of the sheets has the sign { $sign }: it prints as a box in "{ $name }". The pages and the workbook show it. Write the name with other signs where it has to be read on paper.
fact-sure = Sure
fact-when = When
fact-measured = Measured
fact-limit = Limit
fact-beyond = Beyond it
fact-where = Where
fact-rule = Rule
fact-asked = The rules ask for
fact-decision = Decision
fact-evidence = Evidence
none-needed = none needed
cancelled = cancelled
planned = planned
title-results = Results
title-awards = Award list
head-place = Place
task-in-class = { $task }, class { $name }
nobody-placed = Nobody has a result.
nothing-to-award = Nothing to award.
sign-awarded = Awarded on
title-slips = Pilots' slips
title-slip = Slip of pilot { $number }
title-competition-points = Competition points
so-many-lines = { $count ->
    [one] 1 line
   *[other] { $count } lines
  }
title-method = How results become points
title-cautions = Cautions
title-order = Order of work
title-worksheets = Worksheets
title-changes = Changes
first-publication = first publication
of-version = Version { $version }: { $what }
as-published = { $what } as published
struck-out = Scores struck out do not count.
complaints-until = Complaints until { $at }
blue-cells = Blue cells are formulas; the page Method explains them.
scores-that-differ = Scores that differ
state-flown = flown
state-cancelled = cancelled
state-planned = planned
head-competition-short = Comp. penalty
head-holds-up = Holds up official results
nothing-to-put-up = Nothing to put up.
no-slip = No pilot to print a slip for.
no-map = No log of this flight: no map.
page-last-changed = This page is of the version that last changed something on it. The newest version stands under Standings.
code-breakdowns = breakdowns
code-this-page = this page on the web
this-task-is-planned = This task is not flown yet; it gives no points.
this-task-is-cancelled = This task is cancelled; it counts nothing.
brackets-do-not-count = Scores in brackets do not count.
changed = Changed: { $what }
board-changed = { $paper } has the sheets of the notice board that changed, { $changed } of { $all }; the others are as they went up before.
sheets-stay = Nothing changed on these sheets, which stay up as they are: { $sheets }.
board-and-slips-changed = { $board } { $slips }
slips-changed = { $changed ->
    [0] No slip changed: all { $all } are as they went up before.
   *[other] { $paper } has the slips that changed, { $changed } of { $all }; the others are as they went up before.
}
sign-director = Competition director
sign-put-up = Place, date and time put up
formula-of-flight = Flight { $flight } · { $best } · { $line }
sum-and-place = Sum: { $sum } · place { $rank } of { $field }
penalty-line = Penalty: { $penalty }
picture-where = { $what }: where it was, { $pilot }
picture-marks = { $task }: marks of { $pilot } around the target
picture-profile = { $what }, { $pilot }: height above the ground from { $start } to { $end }
picture-flight = Height above the ground, whole flight of { $pilot }
picture-way = Flight of { $pilot }: track, targets, marks and infringements
picture-axis = { $unit } above the ground
picture-ground = ground
picture-speeds = { $what }, { $pilot }: drift over the ground and vertical speed
picture-drift = drift over the ground, { $unit }
picture-vertical = vertical speed, { $unit }
picture-legend = Pictures: the infringement is red, its limit a dashed red line, the track and the height blue; the band around the height holds it in two cases of three. A green area scores, a brown dashed line bounds, red areas are prohibited. Heights are those of the basket.
picture-limit = limit { $limit }
picture-axis-sea = { $unit } above sea level
picture-altitude = { $place }, { $pilot }: altitude against the airspace from { $start } to { $end }
picture-airspace-from = { $name } from { $height }
picture-airspace-to = { $name } up to { $height }
picture-mark-and-target = The mark and the target, north up
picture-heights = Height above the ground; the band holds it in two cases of three
picture-track = The track from launch to landing, north up
page-method = Method
title-versions = Versions and changes
title-data = Data
title-flight = Flight { $flight }
flight-log = Log
first-publication-page = First publication.
no-change-listed = No change listed.
data-csv = a table, UTF-8
data-json = for programs
data-geojson = marks or places on a map (RFC 7946)
data-kml = marks and places for globes (KML 2.2)
data-gpx = marks and points for receivers (GPX 1.1)
to-the-content = To the content
published-on = published
complaints-by = complaints until
pages = Pages
number-or-name = number or name
so-many-found = { $count } found
find-a-pilot = Find a pilot
scores-by-task = Scores by task
step-by-step = Step by step
marks-as-entered = Marks as entered
changed-in-version = Changed in version { $version }
newer-version = A newer version of these results is up. Open it.
fact-newest = Newest version at
pilot-number = No. { $number }
places-mean = Places 95 %: the places within the uncertainty of the measurements.

## How results become points
order-1 = Marks give a result in the task's unit: metres, degrees, square kilometres or seconds.
order-2 = Penalties in metres are put into the result and make it worse.
order-3 = Pilots have a result, flew without one, or did not fly; who is disqualified counts as not flown.
order-4 = Results are rounded as the rules say, half up, and ranked.
order-5 = Ranks and results become points by the formula of the rules.
order-6 = Task penalties are taken from the points; a task score is never under 0.
order-7 = Competition penalties are taken from the total, which may go under 0.
order-8 = A certain infringement counts for now until officials decide; a possible one counts only when they decide so.
formula-of-model-1 = The median place is half of all pilots entered, rounded up; where fewer have a result, their number.
formula-of-model-2 = Before the median place: 1000 − (1000 − points of the median place) × (result − best result) ÷ (result at the median place − best result).
formula-of-model-3 = From the median place on: 1000 × (pilots entered + 1 − place) ÷ pilots entered.
formula-of-model-4 = The best result always gets 1000 points. Points are whole, half up.
formula-of-model-5 = Who flew without a result shares what is left: half of 1000 × (pilots entered + 1 − pilots with a result) ÷ pilots entered each, 500 each where nobody has a result; none, or the points of the place after the last result or of the last place, where the rules say so.
formula-of-model-6 = Who did not fly gets none.
formula-of-model-7 = The formula is that of the published model event rules, chapter 14; its wording, fewer than half with a result, and the points without a result are from memory: a championship checks its own edition.
formula-of-places-1 = Each place gets the points that the rules list for it; places beyond the list get none.
formula-of-none-1 = These rules give places only, no points.

## Forms and the task sheet
printed-at = Printed { $at }
form = Form
title-field-form = Field form: { $task }
title-task-sheet = Task sheet, flight { $flight }
flight-of-day = Flight { $flight } · { $day }
how-to-measure = Measure from the centre of the target to the nearest point of the marker's sandbag. Read the tape twice, the second time by somebody else. Cross out, never overwrite.
in-order-found = Write number and registration of each marker as it is found, one line each. Put a cross under “none found” only after the search has ended.
cross-when-none-found = Put a cross under “none found” only after the search has ended.
how-to-note-time = The rules want the time at which each marker fell: by the clock, to the second.
how-to-note-measurer = The rules want to know of each mark who measured it.
write-as-metric = metres and centimetres, e.g. 12.34 m
write-as-imperial = feet and inches, e.g. 40 ft 3 1/2 in
measured-by = Measured by
written-by = Written by
second-reading-by = Second reading by
tape-from-to = Tape no., from – to
head-mark = Mark
head-registration = Registration
head-distance = Distance
head-second-reading = Second reading
head-bearing = Bearing °
head-measured-from = Measured from
head-time = Time
head-none-found = None found
head-drop-time = Fell at
head-measurer = Measured by
fact-date = Date
fact-target = Target
fact-target-moved = Target moved at { $at }
moved-nobody-said-where = Nobody entered where it stands since
fact-point = Point { $role }
fact-marker = Marker
fact-radius = Measuring radius
fact-write-as = Write lengths as
fact-scoring-areas = Scoring areas
fact-launch-period = Launch period
fact-scoring-period = Scoring period
fact-times = Times
fact-qnh = QNH
fact-temperature = Temperature
fact-sun = Sunrise, sunset
fact-coordinates = Coordinates
local-times = local, { $zone }
grid-and-wgs84 = grid { $grid }, and WGS84 latitude and longitude
at-grid = grid { $east } E, { $north } N
above-sea = { $height } above mean sea level
task-about = Result: { $about }; { $best }.
title-before-all = Before all this
caution-task-sheet = The aviation authority's rules, the event's waiver, the event director and the safety officials come before anything on this sheet. The pilot in command, licensed for the flight, decides whether to fly.
title-limits-of = { $count ->
    [one] Limits of the game: task { $tasks }
   *[other] Limits of the game: tasks { $tasks }
  }
picture-targets = Targets and areas of flight { $flight }
limit-floor = Minimum height
limit-contact = Touching the ground
limit-launch = Launch
limit-scoring = Scoring
limit-airspace = Prohibited airspace
limit-boundary = Boundary
limit-night = Daylight
limit-declarations = Declared goals
officials-decide = officials decide
airspace-between = { $bottom } to { $top }
airspace-ground = the ground
airspace-unlimited = unlimited
earliest-launch = Earliest launch
latest-landing = Latest landing
limit-not-answered = The event has not said: { $rule }.
setting-usual = as usual
setting-goals = Goals a pilot may declare
setting-extra-goals = Which count where more were declared
setting-goal-places = Goals that may be declared
setting-declare-as = Goals are declared by
setting-declare-by = Goals are due
setting-least-distance = Least distance of a declared goal
setting-most-distance = Greatest distance of a declared goal
setting-limits-from = Distance of the goal counts from
setting-outside-radius = A mark outside the measuring radius
setting-several-marks = Of several marks counts
setting-drops = Markers that each pilot drops
setting-out-of-order = Marks that fell in another order
setting-logger-marks = Mark of the logger that counts
setting-note = Note
setting-hare-launch = The hare takes off at
setting-hare-launch-within = How near the track must come
setting-outside-limits = A distance outside the limits
setting-windows = When each area is valid
setting-start = Time begins
setting-reach = The area is reached by
setting-lower = Bottom of the airspace
setting-upper = Top of the airspace
setting-circles = Discs and rings
setting-launch-is = The launch is point
setting-least-leg = Least distance between two points
setting-most-leg = Greatest distance between two points
setting-least-time = Least time before the mark falls
setting-least-flown = Least way flown before the mark falls
setting-time-from = Time begins
setting-reference = The task counts from
setting-mark-areas = Area of each mark
setting-most-time = Greatest time to the mark
setting-direction = Set direction
setting-without = The way does not count in
setting-launch-place = All launch at
setting-land-by = Latest landing
setting-stages = Launch places of the stages

## Winds and heights
page-winds = Winds and heights
title-page-winds = Winds as flown, and heights
picture-hodograph = Winds of flight { $flight } of { $day } by height, north up
picture-hodograph-note = North up. Each point is one layer of height: its direction from the middle shows where balloons were carried, its distance how fast. The line joins the layers from the ground up. Hollow: fewer than three balloons flew there.
winds-how = One wind is fitted to the drift of all balloons in the air, layer by layer above the ground; drives, stays on the ground and tethering are left out, and balloons that contradict the others count less. A layer that fewer than three balloons crossed is less sure. Spread: by how much single drifts, taken over some twenty seconds, differ from the wind.
page-winds-heights = Heights
air-told = { $logs ->
    [one] One log tells of the air
   *[other] { $logs } logs tell of the air together
  }: the column was { $warmer } °C { $way } than the standard atmosphere at that height, give or take { $sigma } °C, near the ground { $inversion } °C { $lower }; the pressure { $trend }. Errors of the ground’s heights are taken as { $scale } times what is said of them.
term-air-warmer = warmer
term-air-colder = colder
term-air-ground-colder = colder than that
term-air-ground-warmer = warmer than that
air-pressure-rose = rose by { $by } hPa an hour
air-pressure-fell = fell by { $by } hPa an hour
air-none = No log of flight { $flight } tells of the air.
air-is-kept = This air was set down when results of the flight were first published. Logs that came later are read with it and change nobody else’s heights, until an official renews it with a reason.
air-is-open = This air is set down when results of the flight are first published.
heights-how = All balloons of a flight fly in the same air. Each log is read with what the others tell of its temperature and pressure, and with how far the heights of the ground can be trusted, as stays on the ground before launch and after landing show.
air-late = { $logs } came after the air of flight { $flight } was set down with published results: read with that air, changing nobody else’s heights. To find the air from all logs again, renew it with a reason; what that changes is shown first (sandtail correct air).
matter-air-late = log read with an earlier air
closes-air-late = accept it, or renew the air of the flight (sandtail correct air; in a folder: delete air.json)
air-unread = What was set down of the air in which the logs were read is damaged. It counts for nothing: heights are found from all logs, and may differ from those published.
matter-air-unread = set-down air cannot be read
closes-air-unread = Export the event again; in a folder: put air.json back as it was exported, or delete it
compass-north = N
compass-east = E
compass-south = S
compass-west = W

## The target log
target-closed = The mark fell at { $at }, when target { $target } was closed. It counts for now. Correct the time or the target log, decide on the mark, or accept it.
target-moved-since = The mark fell at { $fell }; target { $target } was moved at { $at }. Measure to where it stood then, or accept it.
target-moved-when = Target { $target } was moved at { $at }, and nobody entered when this mark fell. Enter its time, or accept that it belongs to where the target stands.
target-moved-when-many = { $pilots } pilots: their target was moved, and nobody entered when their marks fell. Enter the times, or accept that they belong to where the target stands.
target-moved-since-many = { $pilots } pilots: their marks fell before the target was moved. Measure to where it stood then, or accept it.
target-moved-when-by = Target { $target } was moved by { $away } at { $at }, and nobody entered when this mark fell. Enter its time, or accept that it belongs to where the target stands.
target-moved-when-by-many = { $pilots } pilots: their target was moved, and nobody entered when their marks fell. Enter the times, or accept that they belong to where the target stands.
target-moved-since-by = The mark fell at { $fell }, before target { $target } was moved by { $away } at { $at }. Which place its tape was laid to is not known. Measure to where it stood then, or accept it.
target-moved-since-by-many = { $pilots } pilots: their taped marks fell before the target was moved. Measure to where it stood then, or accept it.
target-stood-until = { $target } as it stood until it was moved at { $at }
target-stood-since = { $target } as it stands since it was moved by { $away } at { $at }
target-moved-after = { $target } was moved by { $away } after this mark was entered. A taped distance stays as it was measured, a mark by coordinates counts to where the target stands now. Measure again, or accept it where only its place was corrected.
target-moved-after-many = { $target } was moved by { $away } after the marks of { $pilots } pilots were entered. Taped distances stay as they were measured, marks by coordinates count to where it stands now. Measure again, or accept it where only its place was corrected.
target-not-clear = Target { $target } opened at { $at }. Nobody entered that the field was clear of other balloons before it.

## Who takes part
not-entered = Something is entered for { $pilot }, who takes no part in this task. It counts for nothing. Correct the number, or when the pilot enters or leaves.
papers-not-seen = The pilot's papers were not seen. See them before the flight; the director decides.
papers-not-seen-many = { $pilots } pilots: their papers were not seen. See them before the flight; the director decides.
papers-ran-out = The pilot's papers had run out by this flight. The director decides.
papers-ran-out-many = { $pilots } pilots: their papers had run out by this flight. The director decides.
waiver-not-signed = The pilot has not signed the waiver. Have it signed before the flight; the director decides.
waiver-not-signed-many = { $pilots } pilots have not signed the waiver. Have it signed before the flight; the director decides.
guest-result = Out of competition: { $pilot }, { $result }
guest-without-result = Out of competition: { $pilot }, { $why }
guest-of-task = { $title }: { $result }, out of competition
out-of-competition = out of competition

## Given by decision
decision-come = decided: { $penalty }
decision-gone = no longer decided: { $penalty }
given-told = { $ruling }
bonus-told = { $amount }, { $ruling }
undecided-held = { $seen } The pilot is asked ({ $ruling }). { $now }
undecided-held-many = { $pilots } pilots are asked: { $what }, not yet decided.
explain-held = not yet decided: { $ruling }
step-bonus = bonus: { $amount } ({ $ruling })
step-score-more = score: { $points } + { $bonus } = { $score }
step-competition-bonus = { $points ->
    [one] 1 competition point is added to the total
   *[other] { $points } competition points are added to the total
  }
step-result-given = result by decision: { $result } ({ $ruling })
step-score-set = score by decision: { $points } ({ $ruling })

## Prizes
award-of-day = { $day }

## Task sheets that are issued
fact-version = Version
issued-at = version { $version }, issued { $at }
issued-unchanged = Nothing changed since version { $version }; it stands.
issued-overtaken = Another desk issued version { $version } of this task sheet meanwhile. Throw away the sheet that was just written, and issue again.
issued-prints = The task sheet is version { $version }, issued { $at }. Ctrl+P prints it.
issued-why = Why is there another version? It is printed on the sheet.
changed-line = Changed: { $name }
changed-from-to = { $new } (was: { $old })
said-nothing = nothing

## Window: pictures of a flight
picture-title = { $pilot }, task { $task }
picture-no-log = There is no log that counts for this pilot.
map-mark = mark
map-lowest = lowest
map-touch = touch
map-deepest = deepest
map-here = here
map-launch = launch
map-landing = landing
map-minimum-inside = { $place }: minimum holds inside
map-where = it was { $away } from { $target }, bearing { $bearing }
map-says = Map of { $pilot } in task { $task }: { $parts }.
profile-basket = Basket above the ground
profile-basket-place = Basket above the place the rules count from
profile-altitude = Altitude above mean sea level
profile-minimum = minimum { $limit }
profile-lower = airspace from { $limit }
profile-upper = airspace up to { $limit }
profile-area = scoring area
profile-area-free = scoring area: no minimum
profile-area-contact = scoring area: no ground contact
profile-pace = Drift and vertical speed
profile-drift = drift
profile-climb = vertical speed
profile-says = { $caption }: { $parts }.
profile-says-worst = lowest { $measured } at { $when }
profile-says-limit = { $limit }
profile-says-area = { $area } from { $start }
profile-says-lasts = it lasted { $lasts }
readout-unknown = { $when } · height not known
readout-height = { $when } · { $height } above the ground ± { $give_or_take } (two in three)
readout-estimate = { $when } · { $height } above the ground ± { $give_or_take } · the log shows no time on the ground: heights are estimates

## Rules as questions
questions-beside = Also open here
questions-asked = Must be answered before anything is official
questions-air = In the air
questions-ground = On the ground
questions-points = Points and standings
questions-after = After the results
question-floor = How low may a balloon fly on the way in?
sentence-floor = At least { $height } above { $above } inside { $within }, { $until }; dips shorter than { $least-time } or less deep than { $tolerance } pass.
answer-floor = { $height }; { $cost }
answer-floor-none = no minimum height
question-launch-place = Where may pilots launch?
sentence-launch-place = At least { $least-distance } and at most { $most-distance } from the target, inside { $area }; where a pilot landed and launched again, { $retry } launch counts.
answer-launch-place = { $least-distance } or more from the target; { $cost }
answer-launch-place-none = at any distance
question-launch-time = When may pilots launch?
sentence-launch-time = In the launch period of the task.
answer-launch-time = in the launch period; { $cost }
question-marks-time = When do marks count?
sentence-marks-time = In the scoring period of the task.
answer-marks-time = in the scoring period; { $cost }
question-airspace = Where may nobody fly?
sentence-airspace = In prohibited airspace; less than { $tolerance } inside passes.
answer-airspace = in prohibited airspace; { $cost }
question-boundary = Where must pilots stay?
sentence-boundary = Inside { $within }.
answer-boundary = inside { $within }; { $cost }
answer-boundary-none = no boundary
question-night = How early and late may pilots fly?
sentence-night = Launch { $before-sunrise } before sunrise at the earliest, landing { $after-sunset } after sunset at the latest.
answer-night = { $before-sunrise } before sunrise; { $cost }
answer-night-none = not asked for
question-declarations = Which declared goals are valid?
sentence-declarations = Goals within { $radius } of declared coordinates are meant, of several { $several }; at least { $least-distance } from where it is declared.
answer-declarations = within { $radius }; late: { $cost }
answer-declarations-none = no radius; late: { $cost }
question-brought-up = What is brought before officials?
sentence-brought-up = Infringements that are at least { $least-probability } likely.
answer-brought-up = from { $least-probability } on
question-contact = May the basket touch the ground?
sentence-contact = Not in { $within }, { $until }.
answer-contact = not in { $within }: { $cost }
answer-contact-none = nowhere: { $cost }
question-entering = How are marks entered?
sentence-entering = By two people: { $twice }. Noted with every mark: when it fell: { $drop-time }; who measured it: { $measurer }. Entries up to { $tolerance } apart agree; of two that agree { $counts } counts.
answer-entering = by two people: { $twice }; { $tolerance } apart at most
question-logs = How are flight logs read?
sentence-logs = A marker is thrown up to { $throw }; a pause of { $log-gap } is told; distances along a track have { $dimensions } dimensions.
answer-logs = a marker flies up to { $throw }
question-exact = How exact are results?
sentence-exact = Lengths with { $decimals } decimals, or in steps of { $step }; angles with { $angle-decimals } decimals, times with { $time-decimals }.
answer-exact = { $decimals } decimals
question-points = How do results become points?
sentence-points = By { $method }; points of the places, the first one first: { $places }; each class by itself: { $by-class }.
answer-points = by { $method }
question-no-result = What if a mark is not found?
sentence-no-result = Who flew without a result gets { $no-result }, and everybody who flew at least { $show-up } points.
answer-no-result = { $no-result }
question-equal = What if two are equal?
sentence-equal = Of equal results, { $ties }; they are parted by { $parted-by }.
answer-equal = { $ties }
question-standings = Which tasks count?
sentence-standings = The best { $best-of } tasks; of equal totals, { $ties }.
answer-standings = the best { $best-of }
answer-standings-none = all
question-classes = Are there classes or teams?
sentence-classes = Standings for each class: { $by-class }. Of each team the best { $team-size } pilots count; its name stands in the column { $team-column } of the pilots' list.
answer-classes = standings for each class: { $by-class }
question-complaints = How long may pilots complain?
sentence-complaints = { $complaint-time } after official results, and { $protest-time } after the answer to protest.
answer-complaints = { $complaint-time }, then { $protest-time } to protest
answer-complaints-without-protest-time = { $complaint-time }, then no limit to protest
answer-waits = not answered
cost-question = What does it cost?
cost-no-result = No result in this task
cost-by-amount = By amount
cost-by-steps = By steps
cost-decided = Officials decide each time
gap-everywhere = the whole flight
gap-ground-below = the ground below
gap-none = no limit
gap-anywhere = any place
worked-under-found = Lowest
worked-under-over = Too low
worked-short-found = Distance
worked-short-over = Too near
worked-deep-over = Too far in
worked-late-over = Too late
worked-each = Each time
worked-costs = Costs
worked-half = half the minimum
worked-nothing = nothing
rules-answered-of = { $answered } of { $all } questions answered
rules-open-here = { $matters ->
    [one] 1 matter is open here
   *[other] { $matters } matters are open here
}
rules-keep-official = { $waiting ->
    [one] 1 keeps results from becoming official
   *[other] { $waiting } keep results from becoming official
}
rules-all-answered = All { $all } questions are answered.
rule-answered-then = Answered { $at } by { $by }.
rule-from-book = As the book { $book } has it; nobody changed it.
answer-changes = Recording this scores { $tasks } again: { $penalties ->
    [one] 1 penalty
   *[other] { $penalties } penalties
} and { $ranks ->
    [one] 1 rank
   *[other] { $ranks } ranks
} change.
answer-changes-nothing = Recording this changes no result.
answer-changes-unflown = No task is flown yet: recording this changes no result.
answer-kept = { $tasks } is official and keeps its rule.
answer-same = This is the answer already.
answer-needed = Say how long: nothing can become official without it.

## Window: entering marks
entry-no-task = There is no task yet: make one on the page Tasks.
entry-no-pilots = There are no pilots yet: import or enter them on the page Pilots.
entry-no-pilot = No pilot has number { $typed }. The last number is { $last }.
entry-no-pilot-near = No pilot has number { $typed }. Near it: { $near }. The last number is { $last }.
entry-lacks = { $cell } is missing. Write { $allowed }.
entry-unreadable = “{ $found }” cannot be read as { $cell }. Write { $allowed }.
entry-corrects = Enter puts this in the place of your earlier entry.
entry-already = You entered { $pilot } at { $at } already. F7 corrects that entry.
entry-already-waiting = You entered { $pilot } just now; it is on its way. Then F7 corrects it.
entry-not-noted = The rules want { $cell } noted with every mark. Enter records it without.
entry-third = Entered twice already, by { $people }. Enter records yours as one more.
entry-not-flown = { $pilot } has a report of “did not fly” (by { $by }). Enter records the mark; both will be open.
entry-too-far = { $distance } is farther than tapes reach here ({ $most }). Enter records { $distance }.
entry-too-far-meant = { $distance } is farther than tapes reach here ({ $most }). In { $unit } it would be { $other }. Enter records { $distance }.
entry-long = { $distance } is long for a tape. Enter records it.
entry-unlike-track = { $how } Is it this pilot’s marker? Enter records it.
entry-unlike-track-meant = { $how } { $meant } Enter records it as it stands.
term-in-metres = metres
term-in-feet = feet
term-in-centimetres = centimetres
entry-second-person = You are the second person to enter these marks.
entry-second-person-then = What was entered first stays hidden until your own entry is recorded, on every page.
entry-try-what = Type a number and what was measured first: [F4] then says what it would change.
entry-once-enough = Others entered these marks already.
entry-once-enough-then = Once is enough in this event: what was entered first counts, and Results shows it. Entered again, a mark is compared with the first.
entry-all-yours = { $marks ->
    [one] You entered 1 of these marks yourself. Somebody else must enter it again.
   *[other] You entered { $marks } of these marks yourself. Somebody else must enter them again.
  }
entry-all-yours-then = F9 changes who is at this desk.
entry-differs = The two entries for { $pilot } differ. Yours stays; somebody chooses on Compare entries.
entry-recorded = Recorded: pilot { $pilot }, { $value }
keying-into = Marks of task { $task }, the first with some to enter. Another task: at the top, or [Ctrl+PgDn].
entry-kept = Kept on this computer: pilot { $pilot }, { $value }
entry-reverted = Reverted: pilot { $pilot }, { $value }. It stands in the line again
entry-nothing-of-yours = There is nothing of yours to revert in this task.
entry-not-yours = Only your own entry can be corrected: type its number, or choose its row.
entry-back = What stood in the line when you left is back.
term-board-done = done
term-board-yours = for you
term-board-others = for others
term-board-unknown = nothing known
term-board-logs-done = log counts
term-board-logs-yours = log to be given
term-board-logs-others = known without a log
term-board-logs-unknown = nothing known
board-legend = { $state }: { $count }
board-of-task = { $pilots ->
    [one] 1 pilot, task { $task }
   *[other] All { $pilots } pilots, task { $task }
  }
board-count-done = { $count } done

## Window: how a score adds up
bill-title = How task { $task } adds up
bill-total = Score in task { $task }
bill-result = Result
bill-rank = Place { $rank } of { $field }
bill-not-under-0 = A score is not under 0
bill-nothing-found = nothing found

## Window: before results go up
check-ready-provisional = Can go up as provisional
check-ready-official = Ready to become official
check-ready-final = Ready to become final
check-not-ready-provisional = Cannot go up yet
check-not-ready-official = Not ready to become official
check-not-ready-final = Not ready to become final
check-done = { $done } of { $lines }
check-more = { $pilots } more
check-accounted = Every pilot is accounted for
check-accounted-open = { $matters ->
    [one] 1 matter of who flew is open
   *[other] { $matters } matters of who flew are open
  }
proof-accounted-a = { $count } with result
proof-accounted-b = { $count } flew without
proof-accounted-c = { $count } did not fly
proof-accounted-guests = { $count ->
    [one] 1 guest
   *[other] { $count } guests
  }
check-twice = Every mark is entered
check-twice-open = { $matters ->
    [one] Entries of 1 mark are open
   *[other] Entries of { $matters } marks are open
  }
proof-twice-agree = { $count } agree
proof-twice-settled = { $count ->
    [one] 1 was chosen
   *[other] { $count } were chosen
  }
proof-twice-once = { $count } entered once
check-fit = Marks and flights fit
check-fit-open = { $matters ->
    [one] 1 matter of marks, flights and targets is open
   *[other] { $matters } matters of marks, flights and targets are open
  }
check-decided = Every infringement is decided
check-decided-open = { $matters ->
    [one] 1 infringement is not decided
   *[other] { $matters } infringements are not decided
  }
proof-decided-apply = { $count } confirmed
proof-decided-waive = { $count } waived
proof-decided-set = { $count } with another amount
proof-decided-impose = { $count } added
check-logs = Every log is read
check-logs-open = { $matters ->
    [one] 1 matter of the logs is open
   *[other] { $matters } matters of the logs are open
  }
proof-logs-read = { $count ->
    [one] 1 log
   *[other] { $count } logs
  }
check-accepted = Nothing had to be accepted as it is
check-accepted-open = { $matters ->
    [one] 1 matter is accepted as it is
   *[other] { $matters } matters are accepted as they are
  }
check-accepted-one = { $whom }: { $what }, { $accepted }.
check-rules = Rules are complete
check-rules-open = { $matters ->
    [one] 1 rule is not answered
   *[other] { $matters } rules are not answered
  }
proof-rules-answered = { $count } answered by the event
check-desks-open = { $matters ->
    [one] 1 matter between desks is open
   *[other] { $matters } matters between desks are open
  }
check-complaints-open = { $matters ->
    [one] 1 complaint or protest is open
   *[other] { $matters } complaints or protests are open
  }
check-board-open = { $matters ->
    [one] 1 matter of publishing is open
   *[other] { $matters } matters of publishing are open
  }

## Window: the board in the hall
hall-nothing = Nothing is published yet
hall-hidden = Not shown at this desk: marks in it wait for a second entry
hall-standings = { $count ->
    [one] Standings after task { $tasks }
   *[other] Standings after tasks { $tasks }
  }
hall-task = Results of task { $task }
hall-version = Version { $version }, { $at }
hall-open = { $pilots ->
    [one] 1 pilot not decided
   *[other] { $pilots } pilots not decided
  }
hall-ranks = Ranks { $first } to { $last } of { $total }
hall-task-stands = Task { $task }: { $stage }
hall-task-complaints = Task { $task }: { $stage }, complaints until { $until }
hall-may-change = score may change: not decided yet
hall-next-page = next page in { $seconds } s
hall-own-page = your own page by the code
hall-away = The desk has been away since { $since }. This is what was published last.

## Window: what is decided for one pilot
say-why-first = Say why first: the pilot will read it.
decide-bonus = Gives { $pilot } { $amount } task points more in task { $task }.
decide-score = Sets the score of { $pilot } in task { $task } to { $amount }.
decide-result = Sets the result of { $pilot } in task { $task } to { $amount }.
decide-average = Gives { $pilot } the mean of the other scores in task { $task }.
choice-bonus = Bonus
choice-impose = Penalty
choice-score = Set score
choice-result = Set result
choice-average = Mean of the others
preview-none = No score or rank would change.
preview-score = score { $before } → { $after }
preview-rank = place { $before } → { $after } in the task
preview-place = place { $before } → { $after } in the standings
preview-ranks = { $ranks ->
    [one] 1 rank moves in the standings
   *[other] { $ranks } ranks move in the standings
  }

## Window: the pilot’s page
pilot-open = { $matters } open
pilot-if-confirmed = if confirmed
pilot-hidden = hidden
pilot-corrected = { $stage }, changed since
pilot-logger = logger { $logger }
pilot-place = { $rank } of { $field }
pilot-standing = Standing
pilot-total = Total
pilot-open-matters = Open
pilot-matters = { $matters ->
    [0] nothing
    [one] 1 matter
   *[other] { $matters } matters
  }
holds-title = The pilot holds
holds-nothing = Nothing of this task was published yet.
holds-version = version { $version }, { $stage }: place { $rank }, { $score }
holds-unchanged = Nothing on it has changed since.
holds-changed = Changed since: { $what }.

## Window: what publishing changes
moves-why = Why
moves-scores = scores changed
moves-first = of the first ten
moves-winners = new first place

## Window: the page Publish
page-pilots = Pilots
page-places = Places
page-tasks = Tasks
page-rules = Rules
page-marks = Enter marks
page-compare = Compare entries
page-reports = Observer reports
page-logs = Flight logs
page-infringements = Infringements
page-publish = Publish
page-complaints = Complaints
page-journal = Journal
stage-provisional = open ends are listed
stage-official = opens the time for complaints
stage-final = when that time is over
check-list = What must be so
goes-up = Goes up
goes-up-board = Notice board: to be signed
goes-up-pages = Pilots’ pages, hall board: at once
goes-up-slips = Workbook, data, { $slips } slips
pages-say = Every page says
no-complaint-time = No time for complaints runs
publish-it = Publish
publish-as = Publish { $stage }
publish-more = Said with it, and paper
publish-event = All tasks, and the standings.
publish-tasks = Task { $tasks }, and the standings that rest on it.
results-crowded = { $columns ->
    [one] 1 column has no room here: choose its task above, or a wider window.
   *[other] { $columns } columns have no room here: choose a task above, or a wider window.
  }
close-lines-first = { $lines ->
    [one] Close 1 line first; the chosen line leads there.
   *[other] Close { $lines } lines first; the chosen line leads there.
  }
publish-away = The database does not answer. What goes up is written there: publish when it is back.
publish-provisional-instead = Or publish provisional as version { $version }, with [1].
publish-tells-you = Marks of { $count ->
    [one] task { $tasks }
   *[other] tasks { $tasks }
  } wait for your own entry, and what goes up shows what was entered first. Enter them before, or let somebody else publish.
stays-on-record = Stays on record, reverted or not; version { $version } would follow it.
not-published-lines = { $lines ->
    [one] Not published: 1 line is open
   *[other] Not published: { $lines } lines are open
  }
went-up = Went up before
what-changes = What would change
as-version = against the last version; this would be version { $version }
first-version = This is the first version
looking-ahead = Working out what would go up.
faults-nothing-scored = There are faults: nothing is scored. See Open matters.
nothing-changes = Nothing would change.
no-score-changes = No rank or score that is up would change.
goes-up-first = { $count ->
    [one] Task { $tasks } goes up for the first time
   *[other] Tasks { $tasks } go up for the first time
  }
standings-go-up-first = the standings go up for the first time
goes-up-higher = { $count ->
    [one] Task { $tasks }: { $was } → { $now }
   *[other] Tasks { $tasks }: { $was } → { $now }
  }
all-tasks-and-standings = All tasks, with the standings

## Window: prizes
prizes-none = No prizes yet: places one to three of everything are read out. [Ctrl+N] adds one.
prizes-hint = In the order in which they are given; the award list on Publish reads them out.
prize-new = A new prize
prize-record = Record
prize-recorded = Recorded: prize { $name }.
prize-name-hint = as it is read out
prize-needs-name = Give the prize a name: the award list reads it out.
prize-needs-places = How many places get it is a whole number from 1 up.
prize-taken = There is a prize { $name } already: Enter on it in the list changes it.
prize-why-removed = Why is “{ $what }” removed?
prize-each = each
prize-for-overall = the whole event
prize-for-class = each class
prize-for-team = teams
prize-for-day = each day
prize-for-task = each task
prize-of-task = task { $task }
prize-of-day = { $day }
prize-of-class = class { $name }
prize-among = { $whom }, class { $name }
prize-places = { $places ->
    [one] one place
   *[other] { $places } places
 }
prize-ties-shared = equal places share it
prize-ties-counted-back = equal places: more first places go before
prize-place = { $place }. { $who }
prize-nobody = nobody yet
prize-would = As results stand: { $who }.
prize-would-of = As results stand, { $at }: { $who }.

## Window: open matters
home-official = Keep results from becoming official
home-final = Keep results from becoming final
home-nothing = Worth knowing, holds nothing up
home-open = { $open } open. { $holding ->
    [0] None keeps results from becoming official.
    [one] 1 keeps results from becoming official.
   *[other] { $holding } keep results from becoming official.
  }
home-scoring = Scoring… What is open follows.
home-no-pilots = No pilots are entered yet.
home-no-tasks = No task is set yet.
home-nothing-open = Nothing is open.
home-pilots = { $pilots ->
    [one] 1 pilot
   *[other] { $pilots } pilots
  }
home-task = Task { $task }
home-flight = Flight { $flight }
home-whole-event = Whole event
home-accept = Why is this accepted as it is?
home-note = Note:
card-accounted = Pilots accounted for
card-twice = Entries compared
card-fit = Marks fit flights
card-logs = Flight logs
card-decided = Infringements
card-left = { $left } of { $total } left
card-not-published = Not published
card-published = { $stage }, version { $version }, { $at }

## Window: pilots
pilot-is = { $who }: { $what }
pilot-is-not = { $who }: not { $what }
roster-alike = Everybody in this file is entered already, alike.
roster-read = { $pilots ->
    [one] One pilot
   *[other] { $pilots } pilots
 } imported from { $file }.
pilot-new = A new pilot
pilot-record = Record
pilot-recorded = Recorded: { $number } { $name }
pilot-needs-number = Give a number: a whole number from 1 up.
pilot-needs-name = Give the pilot’s name.
pilot-number-taken = { $number } is { $name } already: [F7] on that row changes it, or give another number.
roster-count = { $pilots ->
    [one] One pilot.
   *[other] { $pilots } pilots.
 }

## Window: long work
job-stopped = Stopped; nothing half done was kept.
desk-taken-over = From here on entries are { $who }’s.
job-stopping = Stopping after this step…

## Window: journal
journal-counts = { $entries } entries; desks: { $desks }; people: { $people }.
journal-on-their-way = { $entries } of this desk are on their way.
journal-about = About { $pilot }; [Esc] shows all.
journal-not-here = This entry is not reverted here: a publication is reverted on the page Publish, and what began the event stays.
revert-first-settings = The event began with these settings: change them on the pages Rules and Prizes, nothing stood before them
revert-settings-since = The settings were changed again since: revert the later change first, or change the answer on the page Rules
journal-merged = The other desk’s entries are in.
journal-archived = Written: { $file }, SHA-256 { $digest }
journal-desk = desk { $desk }, entry { $number }

## Window: what pages say
flight-recorded = Recorded: flight { $flight }
choose-task = Choose a task first.
papers-written = Written: { $files }
logs-no-flight = Make a flight first, on the page Tasks.
logs-wait = Another job is running: drop the logs again when it is done.
logs-no-such-pilot = no pilot has this number
log-given-to = Recorded: { $log } is given to { $pilot }
log-given-to-nobody = Recorded: { $log } is given to nobody, as before
event-recorded = Recorded: what the event says of itself
zone-now = In { $zone } it is { $clock } now.
zone-far = In { $zone } it is { $clock } now, by the sun at the site { $sun }: choose the time zone of the site.
zone-unknown = There is no time zone “{ $zone }”: choose one of the list.
rules-recorded = Recorded: { $question } { $answer }
link-waits = { $entries ->
  [one] 1 entry waits
 *[other] { $entries } entries wait
  } for { $where ->
  [file] the event file
 *[server] the database
  }; as of { $moment }
link-away = { $where ->
  [file] Event file away
 *[server] Database away
  }, as of { $moment }
link-why = Kept on this computer, nothing is lost: { $why }
link-held = { $entries ->
  [one] 1 entry waits
 *[other] { $entries } entries wait
  } for { $where ->
  [file] the event file
 *[server] the database
  }
start-away = The database of this event does not answer. What was entered here waits on this computer and is safe. It is tried again every few seconds, and the event opens by itself once the database answers.
page-to-come = { $page } comes to the front once the event is open
start-waits = What the event must answer for itself, on the page Rules:
rank-hidden = Rank and points: hidden until you have entered all marks of the task
ranks-hidden = Until you have entered the marks of { $count ->
    [one] task { $tasks } that others entered first, its ranks and points,
   *[other] tasks { $tasks } that others entered first, their ranks and points,
  } the standings and the pilots of those marks are hidden from you.
results-none = Not scored yet.
results-faults = These must be put right before anything is scored:
results-doubts = What to know before results go up
results-see-publish = See the page Publish.
hall-shown = The hall board is shown; [Esc] in it closes it.
hall-screen-gone = The second screen is gone. The hall board is shown there again once it is back; [B] shows it in a window.
not-published-scoring = Not published: the last entries are being scored.
not-published-look = Not published: what changed is looked at first; press again.
published-files = { $what }: { $files } files in { $folder }
published-some = { $what }. { $stayed } Files: { $files }, in { $folder }
choose-publication = Choose a publication first.
choose-standing-publication = Choose a publication that stands.
publication-written = Written to { $folder }
complaint-recorded = Recorded: { $level } of { $pilot }
complaint-recorded-late = { $recorded }. { $late }
complaint-answered-so = Answered: { $level } of { $pilot }, { $verdict }
complaint-no-pilot = No pilot has number { $number }.
complaint-whose = Whose is it?
complaint-what = Say what is disputed.
protest-about = Choose the answered complaint it is about.
complaint-choose-open = Choose an open complaint.
complaint-take-answer = Take an answer first: its number, or a click.
complaint-none = No complaint was filed. [K] files one.
complaint-unchosen = No complaint is chosen
complaint-filed-at = Filed { $at }
complaint-filed-by = Filed { $at }, recorded by { $by }

## Window: places
place-new = A new place
place-change = Change { $name }
place-record = Record
place-where = latitude, longitude; … or a circle: … r { $radius }
place-level = as { $height }
place-taken = There is a place { $name } already: Enter on it in the list changes it.
place-recorded = Recorded: place { $name }.
place-none = No places yet. [Ctrl+N] adds one, [Ctrl+O] reads a GeoJSON file.
places-read = { $places ->
    [one] One place
   *[other] { $places } places
 } imported from { $file }.
picture-task = Task { $task }, { $targets }
picture-task-alone = Task { $task }
map-places = On the map: { $places }.

## Window: observer reports
note-ground-contact = Ground contact
note-low = Too low
note-not-flown = Did not fly
note-withdrawn = Takes no further part
note-still-flying = Still flying
note-launch-place = Launch place
note-other = Something else
note-declared-goal = Declared goal
note-target-clear = Field clear of other balloons
note-target-opened = Target opened
note-target-closed = Target closed
note-target-moved = Target moved
note-page-hint = What officials saw, goals that pilots declared, what happened to targets.
note-new = A new report
note-change = Change the report
note-record = Record
note-value = Height or value
note-value-goal = Goal
note-value-target = Target
note-hint-value = if one was seen
note-hint-goal = a place, or coordinates
note-hint-at = east, north or lat, lon
note-place-two = Two coordinates: easting and northing, or latitude and longitude
note-hint-target = empty: the first of the task
note-no-pilot = No pilot has this number
note-allowed = { $found }: allowed is { $allowed }
note-needed = Missing: { $allowed }
note-goal-needed = Write the goal: a place, or coordinates as declared.
note-no-task = Make a task first, on the page Tasks.
note-recorded = Recorded: { $what }
note-recorded-pilot = Recorded: { $what }, pilot { $pilot }
note-none = No report yet. Enter one on the right.
why-wanted = Say why first: it stands in the journal.
note-revert-why = Why is “{ $what }” reverted?
publication-revert-why = Why is “{ $what }” reverted? The reason is published.
pilot-remove-why = Why is { $who } removed?
task-cancel-why = Why does the director cancel task { $task }?
task-counts-why = Why does the director let task { $task } count again?
task-remove-why = Why is task { $task } removed?

## Window: infringements
pilots-together = { $pilots } pilots together
short-floor = { $depth } too low
short-near-floor = near the minimum height
short-beyond = { $what }: { $beyond } beyond the limit
short-plain = { $what }
short-held = the pilot is asked, since { $since }
short-decided = { $decision }: { $what }
short-recorded = recorded, being scored
group-to-decide = To decide
group-on-hold = On hold
group-decided = Decided
group-let-pass = Let pass by the rules
term-report-launch-place = a launch place
fact-lowest = Lowest
fact-not-measured = Not measured
fact-minimum-of = minimum { $limit }
fact-limit-of = limit { $limit }
fact-too-low = Too low
fact-beyond-limit = Beyond the limit
fact-for = { $beyond }, for { $lasts }
fact-from-to = { $least } to { $most }
fact-nothing-beyond = Not beyond it
fact-how-sure = How sure
fact-charged-now = counts for now
fact-not-charged = not charged yet
fact-charged-decided = counts, as decided
fact-charged-nothing = counts nothing, as decided
fact-charged = Charged now
fact-height = Height
fact-checked = Ground-checked
fact-checked-how = by the time on the ground
fact-estimate = Estimate
fact-estimate-why = no time on the ground in the log
fact-no-log = No log
fact-observer = Observer
fact-no-report = No report
fact-pilots = Pilots
fact-drift-lost = Drift lost
fact-stop = vertical speed changed by { $change }; { $when }
observer-by = { $by }
observer-at = at { $at }
observer-says = { $parts }
infringements-open = { $count ->
    [one] one to decide
   *[other] { $count } to decide
  }, the surest first
infringements-none-open = All decided.
infringements-none = No infringement was found.
infringements-not-scored = Not scored yet.
decide-what = Choose: confirm, waive, another amount, or hold.
decide-amount = Say how much: a number from 0 up.
decide-why = { $what }. Why?
decide-whole = { $what }: { $why }.
decide-waive = Charges { $pilot } nothing
decide-asks = Asks { $pilot } first; nobody has decided until then
decide-charge = Charges { $pilot } { $amounts }
decide-no-result = Takes { $pilot } the result of this task
decide-disqualify = Disqualifies { $pilot }
decide-in-task = { $what } in task { $task }
decide-nothing-to-confirm = The rules ask for nothing here: set an amount, or waive it.
decide-was = Decided. [F7] changes or reverts it.
decide-reverts = Reverts the decision on { $pilot }: { $why }.
decide-reverts-why = Reverts the decision on { $pilot }. Why?
decide-by-kind = That decision names the kind of infringement and covers others too: decide this one anew instead.
decide-gone = This infringement is not found any more. Nothing was recorded.
decide-overtaken = Decided on another desk meanwhile: { $by } { $decision } at { $at }. Yours was not recorded.
decided-apply = confirmed it
decided-waive = waived it
decided-set = set another amount
decided-hold = put it on hold
decide-recorded = Recorded: pilot { $pilot }, { $decision }
reason-apply-1 = log is clear
reason-apply-2 = log and observer agree
reason-apply-3 = pilot admits it
reason-waive-1 = within what the log can tell
reason-waive-2 = an official asked for it
reason-waive-3 = safety of the flight
reason-apply-report-1 = observer saw it
reason-apply-report-2 = two officials saw it
reason-apply-report-3 = pilot admits it
reason-waive-report-1 = observer is not sure
reason-waive-report-2 = an official asked for it
reason-waive-report-3 = safety of the flight
reason-set-1 = less than it seems
reason-set-2 = no advantage gained
reason-set-3 = pilot was warned before
reason-hold-1 = pilot is asked
reason-hold-2 = observer is asked
reason-hold-3 = another log is awaited
reason-withdraw-1 = decided on the wrong pilot
reason-withdraw-2 = new evidence
reason-withdraw-3 = typed by mistake
choice-confirm = Confirm
choice-waive = Waive
choice-set = Another amount
choice-hold = Hold
choice-withdraw = Revert
choice-words = In words…
choice-waive-aside = nothing
choice-hold-aside = ask the pilot
choice-withdraw-aside = as not decided
impose-title = A penalty for something that no log shows
impose-who = Whose: the number of a pilot of this event.
impose-whole-event = On the event as a whole only competition points can be added.
impose-event = the event as a whole

## Window: many decisions at once
many-waive = Waive together
many-apply = Confirm together
many-hold = Hold together
many-hint = { $count ->
    [one] if the one chosen is { $decision }; nothing is recorded yet
   *[other] if the { $count } are { $decision }; nothing is recorded yet
  }
many-decided = decided already
many-no-penalty = the rules ask for nothing that could be confirmed
many-out = { $pilot }: { $why }, left out.
many-left-out = { $pilot } left out. [Space] takes it in.
many-decisions = { $count ->
    [one] Record one decision
   *[other] Record { $count } decisions
  }
many-stands = { $count ->
    [one] Stands in the decision, with your name.
   *[other] Stands in each of the { $count } decisions, with your name.
  }
many-reverts = { $count ->
    [one] [Ctrl+Z] reverts it.
   *[other] [Ctrl+Z] reverts all { $count } at once.
  }
many-waived = waived
many-applied = confirmed
many-held = put on hold
many-left = left out
many-moved = ranks move
many-winner = new winner
many-recorded = { $count ->
    [one] Recorded: 1 decision. [Ctrl+Z] reverts it
   *[other] Recorded: { $count } decisions. [Ctrl+Z] reverts all { $count }
  }
many-reverted = { $count ->
    [one] Reverted: 1 entry. It stays in the journal
   *[other] Reverted: { $count } entries. They stay in the journal
  }
entry-taken-back = Reverted: { $what }. It stays in the journal
entry-taken-out = Removed: { $what }. The entries stay in the journal
reverted-one = Reverted: { $kind }, { $what }. It stays in the journal
revert-nothing = You recorded nothing on this page that could be reverted. The page Journal reverts any entry
revert-on-its-way = Your last entry is still on its way into the event: press again
many-one-task = Decisions made together are of one task. Left out, of another: { $pilots }.
many-none = Nothing is chosen that could be decided so.

## Window: compare entries
compare-differ = Two entries differ
compare-unfit = Mark and flight disagree
compare-chosen = Chosen
compare-count = { $count ->
    [one] one to choose
   *[other] { $count } to choose
  }
compare-none = No entries differ, and all marks fit the flights.
compare-apart = task { $task } · differ by { $gap }
compare-one-none = task { $task } · one says no mark was found
compare-differ-in = task { $task } · { $columns } differ
compare-swapped = task { $task } · perhaps swapped
compare-unfit-second = task { $task } · does not fit the flight
compare-chosen-second = { $what }, { $by } { $at }
compare-of = task { $task }, marker { $mark }
compare-entry-1 = First entry
compare-entry-holds = The entry that holds
compare-entry-2 = Second entry
compare-entry-3 = Third entry
compare-entry-other = Another entry
compare-swap = Swap the two marks
compare-meant = Take it as it fits
compare-accept = Accept as it is
compare-as-entered = as entered
compare-no-mark = no mark found
compare-bearing = Bearing
compare-from = From
compare-note = Note
compare-tape = tape from { $from }
compare-the-target = the target
compare-speaks = What speaks for which
compare-not-worth = Ranks and points are not shown here: which entry is right does not depend on what it is worth.
compare-was = Chosen. [Del] on the page Journal takes it back; then it can be chosen anew.
compare-take = Choose: [1] or [2] holds, [0] another value.
compare-take-unfit = Choose: [1] or [2].
compare-holds = { $which } holds: { $what }
compare-other-holds = Another value holds: { $what }
compare-other-what = Which value holds?
compare-swaps = The marks of { $pilot } and { $other } are swapped
compare-takes-meant = The mark of { $pilot } is taken as it fits
compare-marks = { $marks ->
    [one] 1 mark
   *[other] { $marks } marks
  }
compare-takes-all = { $marks } marks of one stack are taken as they fit
compare-accepts-all = { $marks } marks of one stack are accepted as they are
compare-accepts = The mark of { $pilot } is accepted as it is
compare-recorded = Recorded for pilot { $pilot }: { $what }
speaks-digits = Different: { $one } and { $other }.
speaks-no-log = No log counts for this pilot: it cannot tell.
speaks-no-place = The entries have no place on the map: the log cannot tell.
speaks-log-for = The log speaks for entry { $number }: the other lies { $away } from the track, farther than a throw carries.
speaks-log-against = The log speaks for none: the nearest lies { $away } from the track, farther than a throw carries.
speaks-log-both = The log cannot tell: all fit the track, which is known to ± { $sigma }.
speaks-note = Entry { $number } says: { $note }
speaks-own = You made entry { $number } yourself: somebody else should choose.
reason-settle-1 = field sheet
reason-settle-2 = measured again
reason-settle-3 = team was asked
reason-unfit-1 = field sheet shows both numbers
reason-unfit-2 = team was asked
reason-unfit-3 = log is not of this pilot

## Tasks looked over
looked-over = Looked over for you
looked-light = Launch opens after sunrise ({ $sunrise }).
looked-times = Marks count until after the launch closes.
looked-marks-end-early = Marks stop counting at { $marks }, launch closes only at { $launch }. Check the times.
looked-marks-begin-early = Marks count from { $marks }, before launch opens at { $launch }. Check the times.
looked-inside = Target and scoring area are inside { $within }.
looked-outside = { $place } is not inside { $within }. Check the place, or the boundary.
looked-airspace = No closed airspace within { $far }.
looked-airspace-near = Closed airspace { $place } lies { $away } from the target. Tell pilots at the briefing.
looked-defers = A help for planning only. Whether to fly is for the director, the safety officer and each pilot.
period-backwards = { $what } ends before it begins: { $from } to { $to }. Write the earlier time first.
period-unread = “{ $found }” is no period. Write it as 645-730 or 06:45 to 07:30.
task-copied = Task { $task }, new. Filled in from task { $last }; change what differs.
task-record = Record the task
task-leave = leave as it was
task-begun = Task { $task }, new.
place-corners = { $corners } corners
task-recorded = Recorded: task { $task }
task-is-cancelled = Recorded: task { $task } is cancelled
task-counts-again = Recorded: task { $task } counts again
task-radius-metric = as 100 m; farther marks by the logger
task-radius-imperial = as 330 ft; farther marks by the logger

board-hidden = What is on paper shows marks that you must enter first without having seen them.
archive-hidden = An archive holds marks that you must enter first without having seen them.
decide-title = Decide for this pilot
how-much = how much
try-waits = Working out what it changes…
slip-made = Slip to print: { $file }
slip-hidden = No slip yet: some marks are to be entered again without being seen, and its ranks would tell them
slip-print = Print slip
story-title = Everything about { $pilot }, newest first
no-such-finding = Choose a line about an infringement first; then it can be held.
protest-until = Time to protest against this answer: until { $until }.
protest-against = Against the answer to complaint { $number } of { $pilot }.
