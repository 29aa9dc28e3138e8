### Was Piloten lesen: Weg zu den Punkten, Aushang, Beiblatt.
### Was hier fehlt, steht auf Englisch.

## Kleine Wörter
day-pattern = d. MMM
list-end = { $before } und { $last }
over-99-percent = über 99 %
under-1-percent = unter 1 %
none = keine
no-result = kein Ergebnis
cancelled = abgesagt
planned = geplant
term-nothing = nichts
term-yes = ja
term-no = nein

## Wo Marken liegen
no-mark-found = es wurde keine Marke gefunden
term-distance-grid = auf dem Kartengitter
term-distance-ellipsoid = in Meereshöhe
term-distance-ground = am Boden
term-left = links
term-right = rechts
taped = { $length } von { $start } mit dem Band gemessen
measured = { $length } von { $start } gemessen
mark-at = die Marke liegt bei { $at }
mark-from-target = { $length } von { $target }, gemessen { $surface }
mark-from-target-at-height = { $length } von { $target }, gemessen { $surface } in { $ground } über dem Meer
grid-coordinates = Ost { $east } m, Nord { $north } m
latitude-longitude = Breite { $lat }, Länge { $lon } (WGS84)
arcs-cut = die beiden Punkte liegen { $base } auseinander; die Strecken von ihnen treffen sich unter { $angle }, { $side } der Linie zwischen ihnen
mark-of-role = Marke { $role }
mark-not-found = { $mark }: nicht gefunden
mark-not-entered = { $mark }: nicht eingetragen
mark-by-log = { $mark } aus der Aufzeichnung um { $time }

## Regeln, Strafen, Punkte
rule-cited = { $rule }: { $value } ({ $source }, { $certainty })
rule-of-event = { $rule }: { $value } (von der Veranstaltung festgelegt)
rule-by-default = { $rule }: { $value } (unsere Wahl, die Veranstaltung sagt nichts anderes)
term-certainty-confirmed = in einem veröffentlichten Text gelesen
term-certainty-one-source = eine Quelle oder eine alte Ausgabe
term-certainty-memory = aus dem Gedächtnis
term-certainty-practice = allgemeiner Brauch, keine Quelle
term-certainty-event = von der Veranstaltung festgelegt
term-certainty-choice = unsere Wahl
amount-task-points = { $points ->
    [one] 1 Aufgabenpunkt
   *[other] { $points } Aufgabenpunkte
  }
amount-event-points = { $points ->
    [one] 1 Wettbewerbspunkt
   *[other] { $points } Wettbewerbspunkte
  }
amount-metres = { $length } auf das Ergebnis
amount-no-result = kein Ergebnis
amount-disqualified = disqualifiziert
amount-not-counted = { $amount } (zählt nicht)
penalty-figures = { $parts }: { $amount }
penalty-figures-capped = { $parts }, höchstens { $most }: { $amount }
penalty-base = { $amount } dafür
penalty-per = { $each ->
    [1] { $units } { $of } über die Grenze
   *[other] { $units } { $of } über die Grenze zu je { $each }
  }
penalty-step = { $amount } für das Ausmaß
term-unit-h = Std.
points-none = diese Veranstaltung vergibt keine Punkte: die Plätze gehen nach dem Ergebnis
points-best = bestes Ergebnis: { $points } Punkte
points-of-place = Punkte für Platz { $rank }: { $points }
points-of-places = mittlere Punkte der Plätze { $first } bis { $last }: { $points }
points-by-result = Platz { $rank }, vor dem mittleren Platz { $median }: 1.000 − (1.000 − { $median_points }) × ({ $result } − { $best }) ÷ ({ $at_median } − { $best }) = { $points } Punkte
points-by-rank = Platz { $rank }, ab dem mittleren Platz { $median }: 1.000 × ({ $entered } + 1 − { $rank }) ÷ { $entered } = { $points } Punkte
points-without-result = kein Ergebnis: keine Punkte
points-nobody = niemand hat ein Ergebnis: je { $points } Punkte
points-shared = kein Ergebnis: die Hälfte von 1.000 × ({ $entered } + 1 − { $scorers }) ÷ { $entered } = { $points } Punkte
points-at-least = { $how }; wer geflogen ist, hat mindestens { $least }
points-did-not-fly = nicht geflogen oder disqualifiziert: keine Punkte
term-choice-method-international = die Formel der Muster-Wettbewerbsregeln
term-choice-method-places = Punkte für jeden Platz
term-choice-method-none = keine Punkte: die Plätze gehen nach dem Ergebnis
term-choice-ties-shared-rank = sie teilen den besseren Platz
term-choice-ties-mean = das Mittel der Plätze, die sie einnehmen
term-choice-no-result-next-place = die des Platzes nach dem letzten Ergebnis
term-choice-no-result-last-place = die des letzten Platzes
term-choice-parted-by-nothing = nichts
term-choice-parted-by-earlier-drop = der frühere Abwurf
term-choice-no-result-share = ein Anteil am Rest
term-choice-no-result-zero = keine
term-within-scoring-area = die Wertungszone der Aufgabe
rule-floor-height = Mindesthöhe über Grund
rule-contact-within = wo der Boden nicht berührt werden darf
rule-launch-least-distance = Mindestabstand des Starts vom Ziel
rule-launch-most-distance = größter Abstand des Starts vom Ziel
rule-points-method = Punkteformel
rule-points-ties = Punkte bei gleichen Ergebnissen
rule-points-by-class = ob jede Klasse für sich gewertet wird, mit Plätzen und Punkten unter sich
rule-points-parted-by = was gleiche Ergebnisse einer Aufgabe trennt
rule-points-no-result = Punkte für Flug ohne Ergebnis
rule-results-decimals = Nachkommastellen eines Ergebnisses
rule-results-angle-decimals = Nachkommastellen eines Winkels
rule-results-time-decimals = Nachkommastellen einer Zeit in einem Rennen, in Sekunden
rule-standings-best-of = wie viele der besten Aufgaben zählen
rule-standings-ties = was gleiche Summen trennt

## Verstöße und Entscheidungen
finding-floor = Unter der Mindesthöhe
finding-ground-contact = Bodenberührung
finding-launch-distance = Startplatz
finding-launch-period = Start außerhalb der Startzeit
finding-launch-area = Start außerhalb des Startgebiets
finding-scoring-period = Marke außerhalb der Wertungszeit
finding-airspace = Gesperrter Luftraum
finding-boundary = Außerhalb der Grenze
finding-night = Flug bei Nacht
finding-late-declaration = Verspätete Ansage
term-finding-floor = Flug unter der Mindesthöhe
term-finding-ground-contact = Bodenberührung
term-finding-launch-distance = Startplatz
term-finding-launch-period = Startzeit
term-finding-launch-area = Startgebiet
term-finding-scoring-period = Zeit der Marke
term-finding-airspace = gesperrter Luftraum
term-finding-boundary = Verlassen der Grenze
term-finding-night = Flug bei Nacht
term-finding-late-declaration = verspätete Ansage
seen-low = { $lowest }, wo { $limit } die Mindesthöhe ist. { $depth } zu niedrig, { $duration } lang, zu { $sure } sicher.
term-verdict-clear = kein Verstoß
term-verdict-possible = möglich
term-verdict-certain = sicher
term-ruling-unruled = noch nicht entschieden
term-ruling-apply = bestätigt
term-ruling-waive = erlassen
term-ruling-set = anderer Betrag
term-ruling-impose = zusätzlich verhängt
term-ruling-hold = der Pilot wird gefragt
term-ruling-bonus = Gutschrift
term-ruling-result = Ergebnis zugesprochen
term-ruling-score = Wertung festgesetzt
term-ruling-average = Mittel der anderen Wertungen
by-whom = von { $who }
at-when = { $when }
because = weil: { $why }
by-infringement = { $what }
for-infringement = für { $what }
penalty-imposed = von der Wettbewerbsleitung verhängt
disqualified-because = disqualifiziert: { $cause }, { $ruling }
no-result-because = { $cause }, { $ruling }
nothing-known = keine Marke, keine Aufzeichnung, keine Meldung: gilt als nicht geflogen
withdrawn-but-log = { $by } meldet, dass der Pilot ab dieser Aufgabe ausgeschieden ist, aber es gibt eine Flugaufzeichnung. Vorerst ist er zu ihr nicht gemeldet.
reported-not-flown = nicht geflogen, gemeldet von { $by }
did-not-fly = nicht geflogen

## Der Weg zu den Punkten
points-of-next-place = kein Ergebnis: Punkte für Platz { $rank }, nach dem letzten Ergebnis: { $points }
points-of-last-place = kein Ergebnis: Punkte für Platz { $rank }, den letzten: { $points }
matter-class = Klasse eines Piloten
class-of-one = Nach den Regeln wird jede Klasse für sich gewertet, und dieser Pilot ist allein in Klasse { $name }. Nachsehen, ob die Klasse wie die anderen geschrieben ist.
without-class = Nach den Regeln wird jede Klasse für sich gewertet, und hier ist keine Klasse eingetragen. Sie werden vorerst unter sich gereiht. Die Klasse eintragen.
rule-and-paragraph = { $rule } ({ $own })
paragraph-and-penalty = { $own }, Strafe { $cost }
paragraph-of-penalty = Strafe { $cost }
rule-in-task = { $rule }, Aufgabe { $task }
tie-parted = gleiches Ergebnis wie { $others }: der frühere erste Abwurf hat den besseren Platz, hier um { $at }
tie-stays = gleiches Ergebnis wie { $others }: vom ersten Abwurf von { $unknown } ist keine Zeit bekannt; sie teilen den Platz
tie-not-parted = { $pilots } haben dasselbe Ergebnis, und nach den Regeln trennt sie der frühere erste Abwurf. Vom ersten Abwurf von { $unknown } ist keine Zeit bekannt; sie teilen vorerst den Platz. Die Zeit eintragen.
matter-result-lost = kein Ergebnis, weil etwas fehlt
result-lost = Kein Ergebnis, weil etwas nicht eingetragen ist: { $why }. Es eintragen oder hinnehmen, dass es kein Ergebnis gibt.
matter-tie = Gleichstand bleibt
step-group-b = geflogen, kein Ergebnis: { $why }
step-group-c = { $why }
step-result = { ALIKE($measured, $result) ->
    [yes] Ergebnis: { $result }
   *[no] Ergebnis: { $measured }, gerundet { $result }
  }
step-result-more = Ergebnis: { $measured } und { $penalty } Strafe dazu: { $result }
step-result-less = Ergebnis: { $measured } weniger { $penalty } Strafe: { $result }
step-score = Wertung: { $score }
step-score-less = Wertung: { $points } − { $penalty } = { $score }
step-score-not-under-0 = Wertung: { $points } − { $penalty }, nicht unter 0: { $score }
step-competition-points = { $points ->
    [one] 1 Wettbewerbspunkt geht von der Summe ab
   *[other] { $points } Wettbewerbspunkte gehen von der Summe ab
  }
step-cancelled = die Aufgabe ist abgesagt: sie zählt nicht
step-penalty = Strafe: { $amount } { $cause } ({ $ruling })
step-penalty-not-counted = Strafe, zählt nicht: { $amount } { $cause } ({ $ruling })
rules-of-event = Regeln: { $rules }
task-title = Aufgabe { $task } · { $kind } ({ $code })
task-of-flight = { $title }, Flug { $flight }
task-planned-title = { $title }: noch nicht geflogen, gibt keine Punkte
task-cancelled-title = { $title }: abgesagt, zählt nicht
formula-line = { $entered } gemeldet, { $scorers } mit Ergebnis, mittlerer Platz { $median } ({ $at_median }, { $points ->
    [one] 1 Punkt
   *[other] { $points } Punkte
  }), bestes { $best }
formula-nobody = { $entered } gemeldet, niemand hat ein Ergebnis
formula-places = { $entered } gemeldet, { $scorers } mit Ergebnis, bestes { $best }; Punkte für jeden Platz
formula-none = { $entered } gemeldet, { $scorers } mit Ergebnis, bestes { $best }; keine Punkte, die Plätze gehen nach dem Ergebnis
best-smallest = das kleinste Ergebnis ist das beste
best-greatest = das größte Ergebnis ist das beste
term-group-a = mit Ergebnis
term-group-b = geflogen, kein Ergebnis
term-group-c = nicht geflogen
term-disqualified = disqualifiziert
not-settled = offen: die Eintragungen weichen ab
metres-penalty = Strafe { $penalty }
remark-waived = Verstoß erlassen
remark-undecided = Verstoß noch nicht entschieden
explain-task = { $title }, Flug { $flight } am { $day }
explain-task-planned = { $title }, Flug { $flight } am { $day }: noch nicht geflogen
explain-task-cancelled = { $title }, Flug { $flight } am { $day }: abgesagt
explain-evidence = Belege
explain-result = Ergebnis
explain-points = Punkte
explain-infringements = Verstöße und Strafen
explain-score = Wertung
explain-total = Summe { $total }, Platz { $rank } von { $field }
explain-entry = { $mark }: { $entry }
explain-mark = Marke
explain-mark-named = Marke { $mark }
explain-note = Bemerkung: { $note }
explain-declared = angesagt „{ $goal }“
explain-declared-at = angesagt „{ $goal }“ um { $at }
explain-log = Flugaufzeichnung { $log }, { $fixes ->
    [one] 1 Position
   *[other] { $fixes } Positionen
  }, SHA-256 { $sha256 }
explain-no-log = keine Flugaufzeichnung
no-log-many = { $pilots } Piloten ohne Flugaufzeichnung: Ihre Höhen, Starts und Zeiten werden nicht geprüft.
explain-spread = in zwei von drei Fällen auf { $give_or_take } genau gemessen
explain-not-settled = Offen: dieses Ergebnis kann noch nicht amtlich werden.
explain-rule = Regel: { $rule }
cited-rule = Regel: { $rule }
explain-equal = gleich mit { $others }; Regel: { $rule }
explain-seen = { $what }, { $sure } ({ $chance }), { $when }: { $seen }
explain-from-to = { $start } bis { $end }
explain-asks = die Regeln verlangen: { $amounts }
explain-asks-nothing = die Regeln verlangen von sich aus nichts: die Wettbewerbsleitung entscheidet
explain-based-on = Beleg: { $evidence }
explain-based-on-log = Beleg: { $evidence }, SHA-256 { $sha256 }
explain-undecided = noch nicht entschieden; zählt vorerst: { $costs }
explain-undecided-possible = noch nicht entschieden; zählt vorerst nicht
undecided-many = { $pilots } Piloten: { $what }, noch nicht entschieden.
where-many = { $pilots } Piloten
explain-decided = { $ruling }; zählt: { $costs }
explain-waived = { $ruling }; zählt: nichts
explain-added = von der Wettbewerbsleitung verhängt: { $amount }
explain-rank = Platz { $rank } von { $field }, { $group }
explain-range = im Rahmen der Messunsicherheit Platz { $low } bis { $high } (95 %)
explain-task-score = Aufgabe { $task }: { $score }
explain-task-left-out = Aufgabe { $task }: { $score } (zählt nicht: nicht unter den besten)
explain-competition-points = Wettbewerbspunkte: −{ $points }
explain-tie = gleich mit anderen; Regel: { $rule }
explain-class = Klasse { $name }: Platz { $rank } von { $field }

## Warnungen
caution = Ergebnisse und Höhen sind Belege für einen Sport, nach dem Flug mit angegebener Unsicherheit berechnet. Sie dienen nicht der Navigation und sagen nicht, ob ein Flug erlaubt oder sicher war. Luftfahrtbehörde, Genehmigung der Veranstaltung, Wettbewerbsleitung und lizenzierte Piloten gehen vor.
caution-low = Niedriger Flug nahe Menschen, Stromleitungen und Hindernissen kann tödlich sein: eine Mindesthöhe ist eine Grenze des Spiels, niemals die Aussage, dass der Flug in dieser Höhe sicher ist.

## Sicherheit von Wettbewerb und Aufgabe
matter-safety = Sicherheit
launch-in-the-dark = Die Startzeit beginnt um { $opens }, im Dunkeln{ $how }. Die Wettbewerbsleitung verantwortet es.
landing-in-the-dark = Die letzten Marken zählen bis { $closes }, nach Einbruch der Dunkelheit{ $how }. Die Wettbewerbsleitung verantwortet es.
sun-rises = ; die Sonne geht um { $at } auf
sun-sets = ; die Sonne geht um { $at } unter
sun-unknown = {""}
minimum-of-nothing = Die Mindesthöhe ist { $minimum }. Nichts hält Ballone vom Boden und von Menschen fern.
tolerance-eats-minimum = { $tolerance } gehen bei einer Mindesthöhe von { $minimum } durch: Keine Höhe bricht die Regel.
least-time-long = Flug unter der Mindesthöhe zählt erst ab { $least }. Was eine Aufzeichnung zeigen kann, braucht wenige Sekunden.
low-flight-pays = Die halbe Mindesthöhe kostet { $points } von 1.000 Punkten: Niedrig zu fliegen kann sich lohnen. Der Wettbewerb muss wählen.
near-forbidden = { $place } ({ $kind }) liegt { $away } von { $from }.
on-the-way = { $place } ({ $kind }) liegt zwischen { $launch } und { $target }.
within-forbidden = { $from } liegt in { $place } ({ $kind }).
higher-than-minimum = { $place } ({ $kind }) ist { $height } hoch: Wer die Mindesthöhe von { $minimum } einhält, ist nicht darüber.
kind-and-height = { $kind }, { $height } hoch
safety-told = Sicherheit: { $what }
acknowledged = zur Kenntnis genommen { $parts }

## Aushang und Beiblatt
title-results = Ergebnisse
title-slips = Beiblätter der Piloten
title-slip = Beiblatt für Pilot { $number }
title-standings = Gesamtwertung
title-standings-class = Gesamtwertung der Klasse { $name }
title-standings-teams = Mannschaftswertung
title-competition-points = Wettbewerbspunkte
headline-draft = Entwurf, nicht veröffentlicht
headline-of-tasks = { $state }, Fassung { $version }, Aufgabe { $tasks }
rests-on = { $tasks }
rests-on-task = Aufgabe { $task }: { $stage }
headline = { $state }, Fassung { $version }
term-state-provisional = Vorläufig
term-state-official = Amtlich
term-state-final = Endgültig
published-at = Veröffentlicht { $at }
not-published = Nicht veröffentlicht
not-yet = nicht veröffentlicht
fact-event = Veranstaltung
fact-venue = Ort
fact-state = Stand
fact-rests-on = Beruht auf
fact-why = Grund
fact-published = Veröffentlicht
fact-published-by = Veröffentlicht von
fact-complaints = Beschwerden bis
fact-rules = Regeln
fact-head = Einträge und Ergebnisse
code-head = Für sandtail verify
fact-hash = Ergebnisse SHA-256
fact-sure = Sicherheit
fact-when = Wann
fact-measured = Gemessen
fact-limit = Grenze
fact-beyond = Darüber hinaus
fact-where = Wo
fact-rule = Regel
fact-asked = Die Regeln verlangen
fact-decision = Entscheidung
fact-evidence = Beleg
none-needed = keine nötig
head-rank = Platz
head-number = Nr.
head-pilot = Pilot
head-country = Land
head-class = Klasse
head-result = Ergebnis
head-points = Punkte
head-penalty = Strafe
head-task-penalty = Aufgabenstrafe
head-competition-penalty = Wettbewerbsstrafe
head-competition-short = Wettb.-Strafe
head-score = Wertung
head-places = Plätze 95 %
head-remarks = Bemerkungen
head-task = Aufgabe
head-task-number = Aufgabe { $task }
head-total = Summe
head-team = Mannschaft
head-team-pilots = Gewertete Piloten
nothing-to-put-up = Nichts auszuhängen.
no-slip = Kein Pilot für ein Beiblatt.
no-map = Keine Aufzeichnung dieses Flugs: keine Karte.
code-breakdowns = Wege zu den Punkten
code-this-page = diese Seite im Netz
this-task-is-planned = Diese Aufgabe ist noch nicht geflogen; sie gibt keine Punkte.
this-task-is-cancelled = Diese Aufgabe ist abgesagt; sie zählt nicht.
brackets-do-not-count = Wertungen in Klammern zählen nicht.
changed = Geändert: { $what }
sign-director = Wettbewerbsleitung
sign-put-up = Ort, Tag und Uhrzeit des Aushangs
formula-of-flight = Flug { $flight } · { $best } · { $line }
sum-and-place = Summe: { $sum } · Platz { $rank } von { $field }
penalty-line = Strafe: { $penalty }
picture-where = { $what }: wo es war, { $pilot }
picture-marks = { $task }: Marken von { $pilot } um das Ziel
picture-profile = { $what }, { $pilot }: Höhe über Grund von { $start } bis { $end }
picture-flight = Höhe über Grund, ganzer Flug von { $pilot }
picture-way = Flug von { $pilot }: Track, Ziele, Marken und Verstöße
picture-axis = { $unit } über Grund
picture-limit = Grenze { $limit }
picture-axis-sea = { $unit } über dem Meer
picture-altitude = { $place }, { $pilot }: Höhe gegen den Luftraum von { $start } bis { $end }
picture-airspace-from = { $name } ab { $height }
picture-airspace-to = { $name } bis { $height }
picture-ground = Boden
picture-speeds = { $what }, { $pilot }: Fahrt über Grund und Steigen oder Sinken
picture-drift = Fahrt über Grund, { $unit }
picture-vertical = Steigen und Sinken, { $unit }
picture-legend = Bilder: der Verstoß ist rot, seine Grenze eine gestrichelte rote Linie, Track und Höhe sind blau; das Band um die Höhe gilt in zwei von drei Fällen. In einer grünen Fläche wird gewertet, eine braune gestrichelte Linie begrenzt, rote Flächen sind gesperrt. Höhen sind die des Korbs.
hash-in-short = Ergebnisse SHA-256 { $hash }
page-of = Seite { $page } von { $pages }
slip-task = { $title }: { $result }, Platz { $rank }, Wertung { $score }
task-in-short = Aufgabe { $task }: { $kind }
legend-dash-points = Ein Strich: zu dieser Aufgabe nicht gemeldet; sie zählt nichts.
legend-dash-result = Ein Strich: kein Ergebnis in dieser Aufgabe oder nicht zu ihr gemeldet; sie zählt nichts.
legend-competition-penalty = Wettbewerbsstrafe: Punkte, die von der Summe abgezogen sind.
title-awards = Siegerliste
head-place = Platz
task-in-class = { $task }, Klasse { $name }
nobody-placed = Niemand hat ein Ergebnis.
sign-awarded = Überreicht am

## Seiten
task-kind-fin = Fly in
task-kind-pdg = Pilot declared goal
task-kind-fin-about = Abstand der Marke vom Ziel, oder vom nächsten von mehreren
task-kind-pdg-about = Abstand der Marke vom nächsten gültigen Ziel, das der Pilot angesagt hat
local-times = örtlich, { $zone }
fact-times = Zeiten
of-day = { $flight } vom { $day }
places-mean = Plätze 95 %: die Plätze, die innerhalb der Messunsicherheit möglich sind.
remark-penalty = { $cause }: { $amount }
ruled = { $parts }
no-mark-entered = keine Marke eingetragen
title-changes = Änderungen
term-smallest = kleinste
term-greatest = größte
task-measured = { $name }: { $about }; das { $best } Ergebnis ist das beste
term-mark = die Marke
inside-area-by-tape = { $point } liegt in { $area }, wo auch immer auf dem gemessenen Kreis
leg = { $start } bis { $end }: { $length }
inside-area = { $point } liegt in { $areas }
rule-in-words = { $text }
term-report-ground-contact = eine Bodenberührung
term-report-low = einen Flug unter der Mindesthöhe
reported-what = { $what }
reported-at = { $what } in { $height }
reported = { $by } meldete { $what }.
contact-height = tiefster Punkt { $height } über Grund (± { $give_or_take })
contact-drift = { $percent } % der Fahrt in Sekunden verloren
contact-stop = Steigen oder Sinken änderte sich um { $change } innerhalb von { $within }
seen-contact = Bodenberührung, zu { $sure } sicher: { $signs }.
report-and-log = { $report } Das Log: { $other }
report-borne-out = { $report } Das Log zeigt es auch.
term-unit-ft = ft
seen-near-minimum = { $lowest } bei einer Mindesthöhe von { $limit }. { $duration } lang näher daran, als das Log unterscheiden kann; mit { $sure } Wahrscheinlichkeit zu tief.
seen-launch-too-near = Start { $away } vom Ziel; { $limit } ist der Mindestabstand. { $beyond } zu nah, zu { $sure } sicher.
entries-differ = Zwei Eintragungen liegen { $gap } auseinander, mehr als { $tolerance }: { $entries }. Eine davon wählen.
goal-at = { $goal } ({ $at })
declared-goal = angesagtes Ziel "{ $goal }": { $means }
goal-named = das Ziel { $goal }
page-method = Wertung
to-the-content = Zum Inhalt
pages = Seiten
published-on = veröffentlicht
complaints-by = Beschwerden bis
newer-version = Eine neuere Fassung dieser Ergebnisse ist veröffentlicht. Hier öffnen.
fact-newest = Neueste Fassung unter
pilot-number = Nr. { $number }
find-a-pilot = Pilot suchen
number-or-name = Nummer oder Name
scores-by-task = Wertungen nach Aufgaben
step-by-step = Schritt für Schritt
marks-as-entered = Marken, wie eingetragen
changed-in-version = Geändert in Fassung { $version }
title-flight = Flug { $flight }
flight-log = Log
picture-track = Der Track vom Start bis zur Landung, Norden oben
picture-heights = Höhe über Grund; das Band gilt in zwei von drei Fällen
picture-mark-and-target = Marke und Ziel, Norden oben
head-height = Höhe über Grund
title-versions = Fassungen und Änderungen
first-publication-page = Erste Veröffentlichung.
no-change-listed = Keine Änderung verzeichnet.
title-method = Wie aus Ergebnissen Punkte werden
title-order = Arbeitsgang
title-data = Daten
head-rule = Regel
head-value = Wert
head-source = Woher er stammt
order-1 = Marken geben ein Ergebnis in der Einheit der Aufgabe: Meter, Grad, Quadratkilometer oder Sekunden.
order-2 = Strafen in Metern gehen in das Ergebnis ein und verschlechtern es.
order-3 = Piloten haben ein Ergebnis, sind ohne Ergebnis geflogen oder nicht geflogen; wer disqualifiziert ist, gilt als nicht geflogen.
order-4 = Ergebnisse werden gerundet, wie die Regeln es sagen, kaufmännisch, und gereiht.
order-5 = Plätze und Ergebnisse werden nach der Formel der Regeln zu Punkten.
order-6 = Aufgabenstrafen werden von den Punkten abgezogen; eine Aufgabenwertung ist nie unter 0.
order-7 = Wettbewerbsstrafen werden von der Summe abgezogen, die unter 0 gehen kann.
order-8 = Ein sicherer Verstoß zählt vorläufig, bis entschieden ist; ein möglicher zählt nur, wenn so entschieden wird.
data-json = für Programme
data-geojson = Marken oder Orte auf einer Karte (RFC 7946)
data-csv = eine Tabelle, UTF-8

## Zeiten
clock-fits-other = { $log } passt nicht zu diesem Flug, aber zu Flug { $flight }. Gehört sie dorthin, lege sie dorthin. Verstöße gegen Zeiten sind nur möglich.
clock-open = { $log }: { $why }. Ihre Zeiten können darum falsch sein. Verstöße gegen Zeiten sind nur möglich.
seen-perhaps-early = { $act } { $within } nach Beginn ({ $period }), der Zeitpunkt ist auf { $off } bekannt: { $sure } sicher, dass es zu früh war.
seen-perhaps-late = { $act } { $within } vor dem Ende ({ $period }), der Zeitpunkt ist auf { $off } bekannt: { $sure } sicher, dass es zu spät war.
race-time = von { $start } bis { $end }: { $taken }
race-finer-than-log = { $log } hat alle { $every } einen Punkt, und die Regeln zählen Teile einer Sekunde: die letzten Stellen sind nicht bekannt. Rennen in ganzen Sekunden werten.
seen-by-doubtful-clock = { $seen } Die Uhr der Aufzeichnung ist zweifelhaft.
repair-zone-assumed = { $count ->
    [one] 1 Zeit
   *[other] { $count } Zeiten
  } ohne Zeitzone, als Ortszeit gelesen: als UTC läge die Aufzeichnung in keinem Zeitraum des Flugs
repair-doubled-hour = { $count ->
    [one] 1 Punkt
   *[other] { $count } Punkte
  } in der Stunde, die die Uhren am Ort zweimal zeigten: was vorher und nachher kommt, sagt, in welcher
repair-doubled-hour-open = { $count ->
    [one] 1 Punkt
   *[other] { $count } Punkte
  } in der Stunde, die die Uhren am Ort zweimal zeigten; nichts sagt sicher, in welcher
repair-clock-not-set = { $count ->
    [one] 1 Punkt
   *[other] { $count } Punkte
  } nach der Zeitumstellung, der die Uhr des Loggers nicht gefolgt ist: es gilt ihr Abstand zu UTC von vorher

## Eintragungen
entry-tape = { $distance } von { $by }
entry-tape-from = { $distance } ab { $start } von { $by }
entry-bearing = { $distance } in Richtung { $bearing } ab { $start } von { $by }
entry-arcs = { $distance } ab { $start } und { $other } ab { $end } ({ $side } der Linie zwischen beiden) von { $by }
entry-offset = { $distance } auf der Linie von { $start } nach { $end }, { $other } quer dazu ({ $side }) von { $by }
entry-coordinates = { $at } von { $by }
entry-log = aus der Aufzeichnung um { $at } von { $by }
entry-timed = { $entry }, abgeworfen um { $at }
entry-none = keine Marke gefunden von { $by }
term-the-target = dem Ziel
term-somebody = jemand
step-entered = eingetragen: { $entry }
step-entries-agree = { $entries } Eintragungen stimmen überein; es zählt: { $entry }
step-entries-settled = entschieden: { $entry }, weil: { $reason }
step-entries-open = offen: { $why } Vorerst zählt: { $entry }
step-of-mark = Marke { $mark }: { $step }

## Vorgänge: Nummern, Schreibtische, Ordner
matter-old-number = unter einer alten Nummer eingetragen
matter-other-person = eine andere Person unter einer Nummer
old-number = Eintrag { $entry } von { $who } nennt die Nummer { $old }, die jetzt { $new } ist. Er zählt für { $new }.
other-person = Ein Einlesen setzte { $now } an die Nummer { $number }, wo { $before } stand. Alles unter { $number } Eingetragene zählt für { $now }. Die Pilotenliste berichtigen, oder so annehmen.
folder-renumbers = { $now } hat jetzt die Nummer { $new }, nicht { $old }: alles unter { $old } Eingetragene geht mit
folder-other-person = Nummer { $number } ist eine andere Person: aus { $before } wird { $now }, mit allem darunter Eingetragenen
matter-rule-kept = Regel, die eine offizielle Aufgabe behält
rule-kept = Aufgabe { $task } ist offiziell und behält { $rule }: { $kept }. Die Veranstaltung sagt seitdem { $now }. Die Aufgabe wieder öffnen, um sie danach zu werten (sandtail correct reopen).
opens = zu prüfen: { $what }

## Wer auf der Pilotenliste steht
alike-names = { $one } und { $other } schreiben sich fast gleich und stehen unter zwei Nummern. Ist es eine Person, eine der beiden zurückziehen.
columns-exchanged = { $pilots ->
    [one] Bei einem Piloten steht
   *[other] Bei { $pilots } Piloten steht
  } der Name einer Person in der Spalte { $column } und etwas anderes als Name („{ $name }“ neben „{ $beside }“). Die Spalten sind wohl vertauscht: die Pilotenliste berichtigen.
term-column-registration = Kennzeichen
term-column-logger = Logger
matter-alike-names = Piloten fast gleichen Namens
matter-columns-exchanged = vertauschte Spalten der Pilotenliste

## Wessen ein Log ist
term-sign-by-hand = die Zuordnung von Hand
term-sign-pilot-name = der Name des Piloten im Log
term-sign-name-alike = der Name des Piloten im Log, etwas anders geschrieben
term-sign-name-part = ein Wort aus dem Namen des Piloten im Log
term-sign-registration = das Kennzeichen im Log
term-sign-logger = die Seriennummer des Loggers
term-sign-competition-id = die Startnummer im Log
term-sign-file-name = der Name des Piloten im Dateinamen
term-sign-file-name-part = ein Wort aus dem Namen des Piloten im Dateinamen
term-sign-file-registration = das Kennzeichen im Dateinamen
term-sign-file-logger = die Seriennummer des Loggers im Dateinamen
term-sign-file-called = die Nummer, die der Dateiname die des Piloten nennt
term-sign-folder-number = die Nummer im Namen des Ordners
term-sign-file-number = die Nummer im Dateinamen
term-sign-marks = die Marker des Piloten, die sein Weg erreicht
sign-fits = { $sign } passt zu Pilot { $pilots }
sign-fits-nobody = { $sign } („{ $written }“) passt zu niemandem auf der Pilotenliste
marks-off-track = { $marks ->
    [one] der Marker des Piloten liegt abseits des Weges
   *[other] { $marks } Marker des Piloten liegen abseits des Weges
  }
log-may-be = es kann das von Pilot { $pilot } sein ({ $chance })
no-such-pilot = einen Piloten { $pilot } gibt es nicht
log-by-hand-contradicted = { $log } wurde von Hand Pilot { $pilot } zugeordnet, aber { $against }. Es bleibt dabei. Prüfen, wessen Log es ist.
log-contradicted = { $log } ist wahrscheinlich das Log von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }; dagegen: { $against }. Es zählt vorläufig für diesen Piloten. Prüfen, wessen Log es ist, und es von Hand zuordnen.
log-likely = { $log } ist wahrscheinlich das Log von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }. Das allein genügt nicht. Es zählt vorläufig für diesen Piloten. Prüfen, wessen Log es ist, und es von Hand zuordnen.
log-unlikely = { $log }: am ehesten das von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }. Das genügt nicht: es zählt für niemanden. Von Hand zuordnen.
log-ambiguous = { $log }: am ehesten das von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }; dagegen: { $against }. Es zählt für niemanden. Von Hand zuordnen.
log-unmatched = { $log }: weder das Log noch sein Name sagt, wessen es ist. Es zählt für niemanden. Von Hand zuordnen. Gesucht werden Namen, Kennzeichen und Seriennummern im Log und in den Namen von Datei und Ordnern, und Nummern, die die des Piloten genannt werden („pilot 12.igc“).
log-other-time = { $log } zählt für Pilot { $pilot }, hat aber nichts in den Zeiträumen der Aufgaben dieser Fahrt: das Log eines anderen Tages, oder seine Uhr geht falsch. Das richtige Log suchen oder annehmen, dass es zählt.
log-contested = Mehrere Logs sind sicher die von Pilot { $pilot } und waren zugleich an verschiedenen Orten: vorläufig zählt { $lead }, nicht { $others }. Eines ist das eines anderen Ballons. Von Hand seinem Piloten zuordnen.
log-matched = zugeordnet durch { $signs } ({ $chance })
log-matched-by-hand = von Hand zugeordnet
log-not-matched = nicht zugeordnet
log-near = { $log } passt zu keinem Piloten: { $near }. Es zählt für niemanden. Ordnen Sie es zu.
log-near-one = { $sign } („{ $written }“) weicht in einem Zeichen von der von { $pilot } ab

## Winde und Uhren
caution-winds = Weg gelandeter Ballone: er sagt, wie der Wind war, Schicht für Schicht, nicht wie er ist oder wird. Er ist keine Vorhersage: maßgebend ist der amtliche Wetterbericht. Luftfahrtbehörde, Genehmigung der Veranstaltung, Wettkampfleitung und die verantwortlichen Piloten gehen vor.
page-winds = Winde und Höhen
title-page-winds = Winde, wie geflogen, und Höhen
title-winds = Fahrt { $flight } vom { $day }
no-winds = { $flight }: kein Log zeigt den Wind
head-wind-from = Aus, rechtweisend
head-wind-speed = { $unit }
head-wind-spread = Streuung { $unit }
head-wind-minutes = Ballonminuten
head-wind-balloons = Ballone
picture-hodograph = Winde der Fahrt { $flight } vom { $day } nach Höhe, Norden oben
picture-hodograph-note = Norden oben. Jeder Punkt ist eine Höhenschicht: seine Richtung von der Mitte zeigt, wohin Ballone getragen wurden, sein Abstand wie schnell. Die Linie verbindet die Schichten vom Boden aufwärts. Hohl: weniger als drei Ballone fuhren dort.
winds-how = Ein Wind wird dem Weg aller fahrenden Ballone angepasst, Schicht für Schicht über Grund; Autofahrten, Standzeiten und Fesselaufstiege bleiben außen vor, und Ballone, die den anderen widersprechen, zählen weniger. Eine Schicht mit weniger als drei Ballonen ist weniger sicher. Streuung: um wie viel einzelne Wege, über etwa zwanzig Sekunden genommen, vom Wind abweichen.
page-winds-heights = Höhen
air-told = { $logs ->
    [one] Ein Log sagt etwas über die Luft
   *[other] { $logs } Logs sagen zusammen etwas über die Luft
  }: die Luftsäule war { $warmer } °C { $way } als die Standardatmosphäre dieser Höhe, auf { $sigma } °C genau, nahe am Boden { $inversion } °C { $lower }; der Luftdruck { $trend }. Fehler der Bodenhöhen gelten als das { $scale }-Fache dessen, was über sie gesagt ist.
term-air-warmer = wärmer
term-air-colder = kälter
term-air-ground-colder = kälter als das
term-air-ground-warmer = wärmer als das
air-pressure-rose = stieg um { $by } hPa je Stunde
air-pressure-fell = fiel um { $by } hPa je Stunde
air-none = Kein Log der Fahrt { $flight } sagt etwas über die Luft.
air-is-kept = Diese Luft wurde festgehalten, als Ergebnisse der Fahrt zum ersten Mal veröffentlicht wurden. Spätere Logs werden mit ihr gelesen und ändern die Höhen von niemandem sonst, bis ein Offizieller sie mit Begründung erneuert.
air-is-open = Diese Luft wird festgehalten, wenn Ergebnisse der Fahrt zum ersten Mal veröffentlicht werden.
heights-how = Alle Ballone einer Fahrt fahren in derselben Luft. Jedes Log wird mit dem gelesen, was die anderen über ihre Temperatur und ihren Druck sagen, und damit, wie weit den Bodenhöhen zu trauen ist, wie Standzeiten vor dem Start und nach der Landung zeigen.
air-late = { $logs } kam, nachdem die Luft der Fahrt { $flight } mit veröffentlichten Ergebnissen festgehalten war: mit dieser Luft gelesen, ohne die Höhen anderer zu ändern. Um die Luft aus allen Logs neu zu bestimmen, erneuern Sie sie mit Begründung; was das ändert, wird vorher gezeigt (sandtail correct air).
matter-air-late = Log, mit früherer Luft gelesen
closes-air-late = annehmen, oder die Luft der Fahrt erneuern (sandtail correct air)
act-air-renewed = Luft einer Fahrt neu bestimmt
thing-air-renewed = die Luft einer Fahrt, neu bestimmt
correct-no-flight = Es gibt keine Fahrt { $name }.
compass-north = N
compass-east = O
compass-south = S
compass-west = W
clock-doubtful = Die Uhr von { $log } geht vielleicht falsch: { $grounds }. Nichts sagt, was stimmt. Bis das geklärt ist, ist nichts sicher, was auf ihren Zeiten beruht. Geben Sie ein, wann ein Marker fiel, wie jemand es sah, oder entfernen Sie das falsche Log.
clock-proposed = Die Uhr von { $log } geht anscheinend falsch: { $grounds }. Ihre Zeiten wären { $off } { $way }, auf { $give_or_take } genau. Bis dahin zählen sie, wie sie sind, und nichts ist sicher, was auf ihnen beruht. Nehmen Sie dies an, um sie zu verschieben. Stimmt das Log, so berichtigen Sie die eingetragenen Zeiten oder geben Sie ein, wann ein Marker fiel.
clock-by-marks = { $marks ->
    [one] ein Marker wurde zu einer anderen Zeit notiert, als der Weg ihn passiert
   *[other] { $marks } Marker wurden zu anderen Zeiten notiert, als der Weg sie passiert, alle um etwa gleich viel
  }
clock-by-log = { $other } desselben Piloten zeigt denselben Weg zu anderen Zeiten
clock-by-field-days = das Log ist von einem anderen Tag, und sein Start passt zur gleichen Tageszeit zu dem der anderen Ballone
clock-by-field-hours = sein Start passt um ganze Stunden verschoben zu dem der anderen Ballone, wie bei falscher Zeitzone
clock-by-field = kein anderer Ballon fuhr zu seinen Zeiten
term-clock-later = später
term-clock-earlier = früher
clock-moved = alle Zeiten verschoben: { $off } { $way }, auf { $give_or_take } genau
step-clock-moved = Alle Zeiten von { $log } sind { $off } { $way }, als das Log sie hat, auf { $give_or_take } genau: seine Uhr ging falsch, und ein Offizieller hat das angenommen.
matter-log-clock-wrong = Uhr eines Logs geht falsch
matter-log-clock-alone = Uhr eines Logs geht vielleicht falsch
closes-log-clock-alone = annehmen, um die Zeiten des Logs zu verschieben; sonst wartet nichts darauf
closes-log-clock-wrong = annehmen, um die Zeiten des Logs zu verschieben; sonst die notierten Zeiten der Marker berichtigen

## Zielbuch
matter-target-closed = Marke bei geschlossenem Ziel
matter-target-moved = Ziel nach Marken versetzt
matter-target-not-clear = Ziel geöffnet, ehe das Feld frei war
target-closed = Die Marke fiel um { $at }, als Ziel { $target } geschlossen war. Vorerst zählt sie. Zeit oder Zielbuch berichtigen, über die Marke entscheiden, oder so annehmen.
nearest-target-unknown = Ob ein anderes Ziel näher an { $point } liegt, ist nicht bekannt: Vom Ziel { $target } ist ohne Peilung gemessen. Dieses Ziel zählt. Die Peilung eintragen.
target-moved-since = Die Marke fiel um { $fell }; Ziel { $target } wurde um { $at } versetzt. Bis dahin messen, wo es stand, oder so annehmen.
target-moved-when = Ziel { $target } wurde um { $at } versetzt, und niemand trug ein, wann diese Marke fiel. Die Zeit eintragen, oder annehmen, dass sie zu dem Platz gehört, wo das Ziel steht.
target-moved-when-many = { $pilots } Piloten: Ihr Ziel wurde versetzt, und niemand trug ein, wann ihre Marken fielen. Die Zeiten eintragen, oder annehmen, dass sie zu dem Platz gehören, wo das Ziel steht.
target-moved-since-many = { $pilots } Piloten: Ihre Marken fielen, ehe das Ziel versetzt wurde. Bis dahin messen, wo es stand, oder so annehmen.
target-moved-after = { $target } wurde um { $away } versetzt, nachdem { $marks ->
    [one] 1 Marke
   *[other] { $marks } Marken
  } eingetragen { $marks ->
    [one] war
   *[other] waren
  }. Vom Band gemessene Entfernungen bleiben, wie sie gemessen wurden; Marken mit Koordinaten zählen bis dahin, wo es jetzt steht. Neu messen, oder annehmen, wo nur sein Platz berichtigt wurde.
target-moved-after-many = { $pilots } Piloten: Wovon ihre Marken gemessen wurden, wurde versetzt, nachdem sie eingetragen waren. Neu messen, oder so annehmen.
target-not-clear = Ziel { $target } öffnete um { $at }. Niemand trug ein, dass das Feld vorher frei von anderen Ballonen war.

## Wer teilnimmt
matter-not-entered = Einträge zu einem Piloten, der nicht teilnimmt
matter-check-in = Anmeldung der Piloten
not-entered = Etwas ist für { $pilot } eingetragen, der an dieser Aufgabe nicht teilnimmt. Es zählt nicht. Die Nummer berichtigen, oder wann der Pilot ein- oder aussteigt.
papers-not-seen = Die Papiere des Piloten wurden nicht gesehen. Sie vor der Fahrt ansehen; der Leiter entscheidet.
papers-not-seen-many = { $pilots } Piloten: Ihre Papiere wurden nicht gesehen. Sie vor der Fahrt ansehen; der Leiter entscheidet.
papers-ran-out = Die Papiere des Piloten waren bei dieser Fahrt abgelaufen. Der Leiter entscheidet.
papers-ran-out-many = { $pilots } Piloten: Ihre Papiere waren bei dieser Fahrt abgelaufen. Der Leiter entscheidet.
waiver-not-signed = Der Pilot hat den Haftungsverzicht nicht unterschrieben. Vor der Fahrt unterschreiben lassen; der Leiter entscheidet.
waiver-not-signed-many = { $pilots } Piloten haben den Haftungsverzicht nicht unterschrieben. Vor der Fahrt unterschreiben lassen; der Leiter entscheidet.
guest-result = Außer Konkurrenz: { $pilot }, { $result }
guest-without-result = Außer Konkurrenz: { $pilot }, { $why }
guest-of-task = { $title }: { $result }, außer Konkurrenz
out-of-competition = außer Konkurrenz

## Durch Entscheidung gegeben
decision-come = entschieden: { $penalty }
decision-gone = nicht mehr entschieden: { $penalty }
given-told = { $ruling }
bonus-told = { $amount }, { $ruling }
undecided-held = { $seen } Der Pilot wird gefragt ({ $ruling }). { $now }
undecided-held-many = { $pilots } Piloten werden gefragt: { $what }, noch nicht entschieden.
explain-held = noch nicht entschieden: { $ruling }
step-bonus = Gutschrift: { $amount } ({ $ruling })
step-score-more = Wertung: { $points } + { $bonus } = { $score }
step-competition-bonus = { $points ->
    [one] 1 Wettbewerbspunkt kommt zur Summe hinzu
   *[other] { $points } Wettbewerbspunkte kommen zur Summe hinzu
  }
step-result-given = Ergebnis durch Entscheidung: { $result } ({ $ruling })
step-score-set = Wertung durch Entscheidung: { $points } ({ $ruling })

## Vorschau
title-side-by-side = Gesamtwertung, wie sie ist und wie sie wäre
head-rank-then = Platz dann
head-total-then = Summe dann

## Preise
award-of-day = { $day }

## Ausgegebene Aufgabenblätter
act-task-sheet = Aufgabenblatt ausgegeben
thing-task-sheet = ein Aufgabenblatt
fact-version = Fassung
issued-at = Fassung { $version }, ausgegeben { $at }
issued-unchanged = Seit Fassung { $version } hat sich nichts geändert; sie gilt.
changed-line = Geändert: { $name }
changed-from-to = { $new } (vorher: { $old })
said-nothing = nichts

## Regeln der Veranstaltung
rule-answered = { $by }, { $at }
rule-answered-because = { $by }, { $at }: { $why }

## Fenster: Bilder eines Fluges
picture-title = { $pilot }, Aufgabe { $task }
picture-no-log = Für diesen Piloten zählt kein Log.
map-mark = Marke
map-lowest = tiefste Stelle
map-touch = Berührung
map-deepest = am tiefsten darin
map-here = hier
map-launch = Start
map-landing = Landung
map-minimum-inside = { $place }: Mindesthöhe gilt darin
map-where = es war { $away } von { $target } entfernt, Peilung { $bearing }
map-says = Karte von { $pilot } in Aufgabe { $task }: { $parts }.
profile-basket = Höhe des Korbs über Grund
profile-basket-place = Höhe des Korbs über dem Ort, von dem die Regeln zählen
profile-altitude = Höhe über dem Meer
profile-minimum = Mindesthöhe { $limit }
profile-lower = Luftraum ab { $limit }
profile-upper = Luftraum bis { $limit }
profile-area = Wertungsgebiet
profile-area-free = Wertungsgebiet: keine Mindesthöhe
profile-area-contact = Wertungsgebiet: keine Bodenberührung
profile-pace = Drift und Steigen
profile-drift = Drift
profile-climb = Steigen
profile-says = { $caption }: { $parts }.
profile-says-worst = tiefster Wert { $measured } um { $when }
profile-says-limit = { $limit }
profile-says-area = { $area } ab { $start }
profile-says-lasts = es dauerte { $lasts }
readout-unknown = { $when } · Höhe nicht bekannt
readout-height = { $when } · { $height } über Grund ± { $give_or_take } (zwei von drei)
readout-estimate = { $when } · { $height } über Grund ± { $give_or_take } · das Log zeigt keine Zeit am Boden: Höhen sind Schätzungen

## Regeln als Fragen
questions-asked = Zu beantworten, bevor etwas offiziell wird
questions-air = In der Luft
questions-ground = Am Boden
questions-points = Punkte und Wertung
questions-after = Nach den Ergebnissen
question-floor = Wie tief darf ein Ballon beim Anflug fahren?
sentence-floor = Mindestens { $height } über { $above } innerhalb von { $within }, { $until }; Unterschreitungen kürzer als { $least-time } oder weniger tief als { $tolerance } gelten nicht.
answer-floor = { $height }; { $cost }
answer-floor-none = keine Mindesthöhe
question-launch-place = Wo dürfen Piloten starten?
answer-launch-place = { $least-distance } oder mehr vom Ziel; { $cost }
question-launch-time = Wann dürfen Piloten starten?
answer-launch-time = in der Startzeit; { $cost }
question-marks-time = Wann zählen Marken?
answer-marks-time = in der Wertungszeit; { $cost }
question-airspace = Wo darf niemand fahren?
question-boundary = Wo müssen Piloten bleiben?
question-night = Wie früh und wie spät darf gefahren werden?
question-declarations = Welche angesagten Ziele gelten?
question-brought-up = Was kommt vor die Wettbewerbsleitung?
question-contact = Darf der Korb den Boden berühren?
sentence-contact = Nicht in { $within }, { $until }.
answer-contact = nicht in { $within }: { $cost }
question-entering = Wie werden Marken eingegeben?
question-logs = Wie werden Logger gelesen?
question-exact = Wie genau sind Ergebnisse?
question-points = Wie werden aus Ergebnissen Punkte?
question-no-result = Was, wenn eine Marke nicht gefunden wird?
question-equal = Was, wenn zwei gleich sind?
question-standings = Welche Aufgaben zählen?
question-classes = Gibt es Klassen oder Mannschaften?
question-complaints = Wie lange darf man sich beschweren?
sentence-complaints = { $complaint-time } nach offiziellen Ergebnissen, und { $protest-time } nach der Antwort für einen Protest.
answer-complaints = { $complaint-time }, dann { $protest-time } für einen Protest
answer-waits = nicht beantwortet
cost-question = Was kostet es?
cost-no-result = Kein Ergebnis in dieser Aufgabe
cost-by-amount = Nach Ausmaß
cost-by-steps = In Stufen
cost-decided = Die Wettbewerbsleitung entscheidet jedes Mal

## Fenster: Marken eintragen
entry-no-task = Es gibt noch keine Aufgabe: legen Sie eine auf der Seite Aufgaben an.
entry-no-pilots = Es gibt noch keine Piloten: tragen Sie sie auf der Seite Piloten ein.
entry-no-pilot = Kein Pilot hat die Nummer { $typed }. Die letzte Nummer ist { $last }.
entry-no-pilot-near = Kein Pilot hat die Nummer { $typed }. Ähnlich: { $near }. Die letzte Nummer ist { $last }.
entry-lacks = { $cell } fehlt. Zu schreiben ist { $allowed }.
entry-unreadable = „{ $found }“ ist als { $cell } nicht lesbar. Zu schreiben ist { $allowed }.
entry-corrects = Enter setzt dies an die Stelle Ihres früheren Eintrags.
entry-already = Sie haben { $pilot } um { $at } schon eingetragen. F7 berichtigt diesen Eintrag.
entry-already-waiting = Sie haben { $pilot } eben eingetragen; es ist unterwegs. Danach berichtigt F7 es.
entry-third = Schon zweimal eingetragen, von { $people }. Enter trägt Ihres zusätzlich ein.
entry-not-flown = { $pilot } ist als „nicht geflogen“ gemeldet (von { $by }). Enter trägt die Marke ein; beides bleibt dann offen.
entry-too-far = { $distance } ist weiter, als Bänder hier reichen ({ $most }). Enter trägt { $distance } ein.
entry-too-far-meant = { $distance } ist weiter, als Bänder hier reichen ({ $most }). In { $unit } wären es { $other }. Enter trägt { $distance } ein.
entry-long = { $distance } ist lang für ein Band. Enter trägt es ein.
entry-far-from-track = Weit von der Flugspur: das Log kam dem Ziel nicht näher als { $near }. Ist es die Marke dieses Piloten? Enter trägt sie ein.
entry-far-from-track-metres = Weit von der Flugspur: das Log kam dem Ziel nicht näher als { $near }. In Metern gelesen passte es. Enter trägt es ein, wie es dasteht.
term-in-metres = Metern
term-in-feet = Fuß
term-in-centimetres = Zentimetern
entry-second-person = Sie tragen diese Marken als zweite Person ein.
entry-second-person-then = Was zuerst eingetragen wurde, bleibt auf allen Seiten verborgen, bis Ihr eigener Eintrag steht.
entry-all-yours = { $marks ->
    [one] Eine dieser Marken haben Sie selbst eingetragen. Jemand anders muss sie noch einmal eintragen.
   *[other] { $marks } dieser Marken haben Sie selbst eingetragen. Jemand anders muss sie noch einmal eintragen.
  }
entry-all-yours-then = F9 wechselt, wer an diesem Platz sitzt.
entry-differs = Die beiden Einträge für { $pilot } weichen ab. Ihrer bleibt; jemand wählt auf der Seite Einträge vergleichen.
entry-recorded = Eingetragen: Pilot { $pilot }, { $value }
entry-kept = Auf diesem Rechner aufgehoben: Pilot { $pilot }, { $value }
entry-reverted = Zurückgenommen: Pilot { $pilot }, { $value }. Es steht wieder in der Zeile
entry-nothing-of-yours = In dieser Aufgabe ist nichts von Ihnen zurückzunehmen.
entry-not-yours = Nur der eigene Eintrag lässt sich berichtigen: Nummer eingeben oder Zeile wählen.
entry-back = Was in der Zeile stand, als Sie gingen, ist wieder da.
term-board-done = erledigt
term-board-yours = für Sie
term-board-others = für andere
term-board-unknown = nichts bekannt
term-board-logs-done = Log zählt
term-board-logs-yours = Log zuzuordnen
term-board-logs-others = ohne Log bekannt
term-board-logs-unknown = nichts bekannt
board-legend = { $state }: { $count }
board-of-task = { $pilots ->
    [one] 1 Pilot, Aufgabe { $task }
   *[other] Alle { $pilots } Piloten, Aufgabe { $task }
  }
board-count-done = { $count } erledigt
