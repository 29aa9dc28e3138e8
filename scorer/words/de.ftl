### Alles, was man liest, im schlichten Deutsch der Ballonfahrer.
### Reihenfolge und Abschnitte sind die der englischen Datei.

## Kleine Wörter
day-pattern = d. MMM
list-end = { $before } und { $last }
over-99-percent = über 99 %
under-1-percent = unter 1 %

mark-between-fixes = wo das Log zu dieser Zeit war, zwischen zwei Positionen
mark-in-a-pause = das Log setzt um diese Marke { $pause } lang aus: ihr Ort liegt auf einer geraden Linie zwischen den Positionen
mark-without-log = die Marke soll aus dem Log kommen, und es gibt kein Log
mark-outside-log = das Log reicht nicht bis zur Zeit der Marke
task-cancelled = die Aufgabe ist abgesagt
task-planned = die Aufgabe ist noch nicht gefahren
not-brought-up = { $seen } Nicht vorgelegt: weniger wahrscheinlich als { $least }.
at-once = { $worse } Gleichzeitig: { $other }
report-and-log = { $report } Das Log: { $other }
report-beside-log = { $report } { $beside }
beside-report = Nach dem Log war der Ballon um { $at } { $where }.
beside-height = { $height } über Grund
beside-away = { $away } vom nächsten Ziel oder Wertungsgebiet
beside-inside = im Wertungsgebiet
report-contradicted = { $who } meldete { $report } um { $noted } von Pilot { $pilot }; dem widerspricht das Log. { $beside } { $there }
report-says-ground-contact = eine Bodenberührung
report-says-low = tiefes Fahren
report-others = Tief und nahe waren damals: { $named }. Den Beobachter nach der Nummer fragen.
report-many = Tief und nahe waren damals: { $named }; { $more } weitere passen fast ebenso gut, die Logs entscheiden es nicht. Den Beobachter nach der Nummer fragen.
report-nobody = Kein anderes Log zeigt damals jemanden tief und nahe. Zeit und Nummer mit dem Beobachter prüfen.
report-other = Pilot { $pilot } ({ $height } um { $at })
report-borne-out = { $report } Das Log zeigt es auch.
report-and-report = { $report } Außerdem: { $other }
no-finite-number = die Eintragungen ergeben keine endliche Zahl: die Koordinaten prüfen
outside-limits-open = { $reason }. Die Aufgabe sagt nicht, was das kostet; es zählt, bis ein Offizieller entscheidet.

## Wo Marken liegen
no-mark-found = es wurde keine Marke gefunden
term-distance-grid = auf dem Kartengitter
term-distance-ellipsoid = in Meereshöhe
term-distance-ground = am Boden
term-left = links
term-right = rechts
taped = { $length } von { $start } mit dem Band gemessen
measured = { $length } von { $start } gemessen
bearing-from-grid-north = Peilung { $bearing } von Gitternord
bearing-from-magnetic-north = Peilung { $magnetic } von magnetisch Nord, Missweisung { $declination }: { $true } rechtweisend
bearing-from-true-north = Peilung { $true } rechtweisend, um { $turn } gedreht: { $grid } von Gitternord
arcs-cut = die beiden Punkte liegen { $base } auseinander; die Strecken von ihnen treffen sich unter { $angle }, { $side } der Linie zwischen ihnen
offset-from-line = { $along } auf der Linie von { $start } nach { $end }, { $across } rechtwinklig dazu ({ $side })
length-on-the-grid = { $length } { $surface } sind { $grid } auf dem Kartengitter
coordinates-in = Koordinaten des Kartengitters { $system }
latitude-longitude = { $lat }, { $lon } (WGS84)
grid-coordinates = { $east } O, { $north } N
grid-metres = { $metres } m
mark-at = die Marke liegt bei { $at }
mark-from-target = { $length } von { $target }, gemessen { $surface }
mark-from-target-at-height = { $length } von { $target }, gemessen { $surface } in { $ground } über dem Meer

bearing-without-declination = Die Peilung zählt von magnetisch Nord, und die Veranstaltung nennt keine Missweisung. Die Entfernung zählt; wo die Marke liegt, bleibt offen. Die Missweisung der Veranstaltung eintragen, oder die Peilung von Gitternord oder rechtweisend.
arcs-miss-each-other = Die beiden Entfernungen verfehlen einander um { $gap }, nicht mehr, als ein Band irren kann. Die Marke wird auf die Linie durch beide Punkte gesetzt.
arcs-cut-badly = Die beiden Linien treffen sich unter { $angle } und bestimmen den Punkt schlecht. Neu messen von Punkten, deren Linien sich zwischen { $least } und { $most } treffen.

observed-by = { $what }, eingetragen von { $by }
observed-distance = Entfernung von { $start }
observed-bearing = Peilung von { $start }
observed-east = Ost
observed-north = Nord
observed-residual = { $what }: { $value }, daneben um { $residual } (Unsicherheit { $sigma })
adjusted = alle Messungen nach kleinsten Quadraten ausgeglichen, { $spare } mehr als nötig; sie verfehlen um das { $misfit }-Fache, was ihre Unsicherheiten versprechen
adjusted-without-spare = alle Messungen nach kleinsten Quadraten ausgeglichen, keine mehr als nötig
worst-observation = passt am schlechtesten: { $what }, um das { $times }-Fache der eigenen Unsicherheit
error-ellipse = Unsicherheit { $major } × { $minor }, lange Achse in Richtung { $axis }
survey-contradicts-itself = Die Messungen widersprechen sich: durch Zufall allein in { $chance } der Fälle. Welche falsch ist, lässt sich aus so wenigen nicht sagen. Neu messen.
survey-contradicted-by = Die Messungen widersprechen sich: durch Zufall allein in { $chance } der Fälle. Am schlechtesten passt: { $what }. Neu messen.

measurements-fix-no-point = diese Messungen bestimmen keinen Punkt: zwei Entfernungen angeben, eine Entfernung und eine Peilung, zwei Peilungen oder Koordinaten
no-point-fits = kein Punkt passt zu diesen Messungen: neu messen, oder die weglassen, die den anderen widerspricht
two-points-fit = zwei Punkte, { $apart } auseinander, passen gleich gut zu diesen Entfernungen: sagen, auf welcher Seite der Linie die Marke liegt, oder von einem dritten Punkt messen
observation-unusable = einer Messung fehlt der Wert, die Unsicherheit oder der Punkt, von dem sie ausgeht: { $what }
arcs-from-one-point = { $first } und { $second } sind derselbe Punkt: zwei Entfernungen von ihm bestimmen keine Marke
arcs-too-short = { $first } und { $second } liegen { $base } auseinander, gemessen wurden { $one } und { $other }: zusammen um { $gap } zu kurz. Neu messen, oder Punkte und Einheit prüfen
arcs-too-long = { $first } und { $second } liegen { $base } auseinander, gemessen wurden { $one } und { $other }: eines ist für das andere um { $gap } zu lang. Neu messen, oder Punkte und Einheit prüfen
entry-measures-no-point = die Eintragung misst keinen Punkt

term-entry-method = die Art der Messung
term-entry-time = die Zeit
term-entry-unit = die Einheit
term-entry-distance = die Entfernung
term-entry-bearing = die Peilung
term-entry-from = der Punkt, von dem gemessen ist
term-entry-distance2 = die zweite Entfernung
term-entry-from2 = der zweite Punkt
term-entry-side = die Seite der Linie
term-entry-easting = der Ostwert
term-entry-northing = der Nordwert
term-entry-lat = die Breite
term-entry-lon = die Länge
entry-needs-tape = in der Eintragung fehlt { $lacks }: eine mit dem Band gemessene Marke braucht ihre Entfernung, und auch die Peilung, wenn nicht vom Ziel gemessen ist
entry-needs-polar = in der Eintragung fehlt { $lacks }: sie braucht eine Entfernung und eine Peilung und den Punkt, von dem beide ausgehen
entry-needs-arcs = in der Eintragung fehlt { $lacks }: sie braucht zwei Entfernungen, die beiden Punkte, von denen sie ausgehen, und die Seite der Linie zwischen ihnen
entry-needs-offset = in der Eintragung fehlt { $lacks }: sie braucht die Entfernung auf der Linie, die Entfernung rechtwinklig dazu, die beiden Punkte der Linie und die Seite
entry-needs-grid = in der Eintragung fehlt { $lacks }: sie braucht Ostwert und Nordwert
entry-needs-latlon = in der Eintragung fehlt { $lacks }: sie braucht Breite und Länge
entry-without-distance = die Eintragung hat keine brauchbare Entfernung
no-such-point = „{ $name }“ ist kein Punkt der Veranstaltung
no-such-area = „{ $name }“ ist kein Gebiet der Veranstaltung
declination-missing = eine Richtung zählt von magnetisch Nord, und die Veranstaltung nennt keine Missweisung

latitude-beyond-90 = eine Breite über 90°
system-cannot-show-point = das Kartengitter { $system } kann diesen Punkt nicht zeigen
no-point-so-far = kein Punkt liegt { $length } in Richtung { $bearing } von { $east } O, { $north } N auf dem Kartengitter { $system }
pressure-beyond-the-atmosphere = ein Druck außerhalb der Standardatmosphäre, die von −5 bis 20 km gegeben ist
height-beyond-the-atmosphere = eine Höhe außerhalb der Standardatmosphäre, die von −5 bis 20 km gegeben ist
no-place-on-earth = kein Ort auf der Erde: { $lat }, { $lon }
fault-in-words = { $text }
faults = { $faults }
unreadable = gefunden: „{ $found }“; erlaubt: { $allowed }

## Der Boden der Veranstaltung
and-more = { $more } weitere
datums-apart = Das Kartengitter { $system } und Satellitenempfänger (WGS84) können um bis zu { $most } voneinander abweichen: Koordinaten des einen passen nicht besser zum anderen. Entfernungen gelten.
datums-apart-by-an-unknown-amount = Das Kartengitter { $system } und Satellitenempfänger (WGS84) können um einen unbekannten Betrag voneinander abweichen: Koordinaten des einen passen vielleicht nicht zum anderen. Entfernungen gelten.
outside-the-systems-area = Außerhalb des Gebiets, für das das Kartengitter { $system } gemacht ist: { $places }. Entfernungen gelten, Koordinaten können überraschen.
no-elevation = Die Veranstaltung hat weder Gelände noch eine Höhe des Bodens. Entfernungen am Boden gelten wie in Meereshöhe: bei { $up } sind das { $short } zu wenig auf { $way }. Eines von beiden angeben.
terrain-does-not-cover = Das Gelände reicht nicht überall hin: { $places }.
terrain-elsewhere = { $terrain } liegt bei { $grid }, wo die Veranstaltung { $written } sagt. Die Einheit beider prüfen, und ob es das richtige Gelände ist.
terrain-in-feet = { $terrain } liegt bei { $grid }, wo die Veranstaltung { $written } sagt, als wäre das Gelände in Fuß. Die Einheit beider prüfen, und ob es das richtige Gelände ist.
terrain-above-the-ellipsoid = { $terrain } gibt Höhen über dem Ellipsoid, die um einige zehn Meter von denen über dem Meer abweichen. Höhen über Grund leiden darunter nicht.
terrain-on-a-map-in-feet = { $terrain } liegt auf einer Karte in Fuß und sagt nicht, worin seine Höhen sind. Sie gelten als Meter.
terrain-without-system = { $terrain } nennt kein Bezugssystem. Es gilt als { $system }.
terrain-scaled = Die Höhen in { $terrain } werden in Meter umgerechnet, mal { $factor }.
terrain-cells-empty = { $cells ->
    [one] 1 Zelle
   *[other] { $cells } Zellen
  } von { $terrain } ohne mögliche Höhe: leer gelassen.

## Aufgaben
term-mark = Marke
term-launch = Start
term-landing = Landung
term-drop = Abwurf der Marke
term-reported-landing = gemeldete Landung
term-smallest = kleinste
term-greatest = größte
term-place-of-declaration = Ort der Ansage
mark-of-role = Marke { $role }
point-of-role = { $role } ({ $point })
track-at = Track um { $time }
goal-named = Ziel { $goal }
from-to = { $start } bis { $end }

task-measured = { $name }: { $about }; das { $best } Ergebnis ist das beste
launch-unknown = wo der Ballon startete, ist nicht bekannt: das Log zeigt es nicht, und keine Marke des Starts ist eingetragen
launch-time-unknown = die Zeit des Starts ist nicht bekannt
mark-not-found = { $mark }: nicht gefunden
mark-not-entered = { $mark }: nicht eingetragen
mark-missing-beside-others = Andere Marken dieses Piloten sind eingetragen, diese nicht: { $mark }. Sie eintragen, oder „keine Marke“, wenn sie nicht gefunden wurde.
mark-without-numbers = { $mark }: die Koordinaten sind keine Zahlen. Neu eintragen
mark-without-bearing = { $point }: der Ort ist nicht bekannt, da ohne Peilung gemessen wurde. Auch die Peilung eintragen, oder die Entfernung von dem Punkt, von dem diese Aufgabe zählt
mark-by-log = { $mark } aus dem Log um { $time }
mark-beside-place = { $mark } ist eingetragen, aber die Aufgabe nennt dafür { $place }: dieser Ort zählt
time-unknown = { $point }: die Zeit ist nicht bekannt. Sie neben der Messung eintragen
time-from-track = { $point }: keine Zeit ist eingetragen. Es gilt { $time }, wann der Track am nächsten vorbeikommt.

no-mark-entered = keine Marke eingetragen
several-marks = eingetragene Marken: { $marks }; { $how }
term-marks-least-advantageous = die für den Piloten schlechteste zählt
term-marks-most-advantageous = die für den Piloten beste zählt
term-marks-first = die erste zählt
term-marks-last = die letzte zählt
term-marks-sum = alle zusammengezählt
term-marks-mean = alle, mit ihrem Mittel
term-marks-invalid = nur eine ist erlaubt
too-many-marks = { $marks } Marken, und die Aufgabe erlaubt eine
marks-give-none = { $reasons }

leg = { $start } bis { $end }: { $length }
leg-in-3d = { $start } bis { $end }: { $flat } über Grund und { $rise } in der Höhe, zusammen { $slope }
height-unknown = { $point }: die Höhe ist nicht bekannt, und Entfernungen zählen hier mit der Höhe. Diesem Ort oder der Veranstaltung eine Bodenhöhe geben
near-edge-inside = { $point }: nicht sicher innerhalb des Gebiets, { $edge } innerhalb des Randes und damit näher als die Unsicherheit. Zählt als innerhalb. Nachsehen.
near-edge-outside = { $point }: nicht sicher außerhalb des Gebiets, { $edge } außerhalb des Randes und damit näher als die Unsicherheit. Zählt als außerhalb. Nachsehen.
outside-area = { $point } liegt um { $gap } außerhalb der Wertungszone { $area }
inside-area = { $point } liegt in { $areas }
inside-area-by-tape = { $point } liegt in { $area }, wo auch immer auf dem gemessenen Kreis
inside-unknown = { $point }: ob innerhalb der Wertungszone, ist nicht bekannt, da ohne Peilung gemessen wurde. Zählt als innerhalb. Die Peilung eintragen.

nearest-target-unknown = Ob ein anderes Ziel näher an { $point } liegt, ist nicht bekannt: Vom Ziel { $target } ist ohne Peilung gemessen. Dieses Ziel zählt. Die Peilung eintragen.
nearest-of = das nächste von { $targets }: { $length }
outside-radius = { $point } liegt { $away } entfernt, außerhalb des Messkreises von { $radius }
taped-outside-radius = Außerhalb des Messkreises gemessen: { $point } liegt { $away } entfernt, der Messkreis reicht { $radius } weit. Es zählt. Nachsehen, ob es richtig eingetragen ist.
area-never-valid = die Aufgabe sagt nicht, wann { $areas } gilt
fell-outside-window = { $point } fiel in { $areas } um { $time }, gültig { $valid }
fell-within-window = { $point } fiel in { $areas } um { $time }, gültig { $valid }
time-near-window = { $point }: die Zeit ist zu unsicher, um zu sagen, ob das Gebiet gültig war. Das Log ansehen.
hare-launch-unseen = Kein Log zeigt, ob der Pilot zuerst dorthin fuhr: { $place }.
nearest-to-hare-launch = am nächsten an { $place }: { $away } um { $time }
too-far-from-hare-launch = am nächsten an { $place }: { $away } um { $time }, weiter als { $most }

leg-too-short = { $start } bis { $end }: { $length }, mindestens { $least } sind verlangt
leg-too-long = { $start } bis { $end }: { $length }, höchstens { $most } sind erlaubt
leg-near-limit = Zu nah an der Grenze für die Unsicherheit: { $start } bis { $end }, { $length }. Nachsehen.
fell-too-early = { $point } fiel nach { $after }, mindestens { $least } sind verlangt
fell-too-late = { $point } fiel nach { $after }, höchstens { $most } sind erlaubt
way-flown = Weg vom Start bis { $point }: { $way }
way-too-short = { $point } fiel nach { $way } Weg, mindestens { $least } sind verlangt
way-unknown = der gefahrene Weg ist nicht bekannt: kein Log zeigt ihn vom Start an
log-ends-before-mark = der gefahrene Weg ist nicht bekannt: das Log endet vor der Marke
time-elapsed = { $point }: { $end } − { $start } = { $elapsed }
fell-before-start = Zeiten prüfen: { $point } fiel um { $end }, vor { $start }, von wann an die Zeit zählt.
dropped-before-launch = Zeiten prüfen: { $mark } fiel um { $time }, vor dem Start um { $launch }.
dropped-before-period = Zeiten prüfen: { $mark } fiel um { $time }, ehe die Startzeit um { $opening } begann.
dropped-after-landing = Zeiten prüfen: { $mark } fiel um { $time }, nach der Landung um { $landing }.
marks-out-of-order = Zeiten prüfen: { $second } fiel um { $second_at }, vor { $first } um { $first_at }.
landed-before-launch = Zeiten prüfen: die Landung um { $landing } ist vor dem Start um { $launch }.
landed-before-period = Zeiten prüfen: die Landung um { $landing } ist, ehe die Startzeit um { $opening } begann.
declared-after-drop = Zeiten prüfen: { $goal } wurde um { $declared } angesagt, nachdem die Marke um { $drop } gefallen war.
marks-too-far-apart = Zeiten und Orte prüfen: { $first } um { $first_at } und { $second } um { $second_at } liegen { $apart } auseinander. So schnell fährt kein Ballon.
times-by-log = { $told } Mindestens eine dieser Zeiten ist aus dem Log { $log }. Prüfen, ob es das Log dieses Piloten von dieser Fahrt ist und seine Uhr richtig geht; sonst die eingetragene Zeit berichtigen.
too-few-drops = { $marks } von { $wanted } Marken: alle müssen ein Ergebnis haben
marks-sum = alle Marken zusammengezählt: { $each }, zusammen { $result }
marks-mean = Mittel aller Marken: { $each }, Mittel { $result }
time-near-limit = Zu nah an der Grenze von { $limit } für das, was das Log sagen kann: { $point } fiel nach { $elapsed }. Nachsehen.
no-launch-period = die Zeit zählt von der Startzeit an, und die Aufgabe hat keine
same-area = { $start } und { $end } liegen im selben Gebiet

elbow-turned = der Winkel ABC ist { $corner }: die Fahrt bog um { $turn } ab
triangle = Seiten { $ab }, { $bc } und { $ac }: Fläche { $area }
one-point = { $start } und { $end } sind ein Punkt: keine Linie dazwischen
angle-to-direction = von { $start } nach { $end } { $flown }, vorgegebene Richtung { $set } (von Gitternord): Winkel { $angle }
direction-on-the-grid = vorgegebene Richtung { $set } ({ $north }): { $grid } von Gitternord
term-north-true = rechtweisend
term-north-magnetic = von magnetisch Nord

launch-place-unknown = wo der Ballon startete, ist nicht bekannt: den Startplatz in der Aufgabe nennen, eine Marke des Starts eintragen, oder ein Log geben, das ihn zeigt
landing-unknown = wo der Ballon landete, ist nicht bekannt: den gemeldeten Ort eintragen, oder ein Log geben, das ihn zeigt
landing-by-log = Landung nach dem Log
landings-apart = Die gemeldete Landung liegt { $apart } von der des Logs entfernt. Die Meldung zählt. Nachsehen, was stimmt.
landing-time-unknown = Die Zeit der Landung ist nicht bekannt. Sie neben der Meldung eintragen.
landed = gelandet um { $landed }, Frist { $due }
landed-late = gelandet um { $landed }, Frist { $due }
landing-of-stage = Landung der Etappe { $stage }
stage-without-landing = Keine Landung der Etappe { $stage } ist eingetragen (Marke { $stage }). Die Etappe zählt nichts.
no-stage-landed = keine Landung einer Etappe ist eingetragen
stages-together = { $flown } von { $stages } Etappen zusammen: { $total }
great-distance = von { $start } ({ $start_at }) nach { $end } ({ $end_at }): { $distance } auf der Erdoberfläche

reached-before-start = das Gebiet wurde { $early } vor dem Beginn erreicht: die Zeiten prüfen
race-time = von { $start } bis { $end }: { $taken }
race-finer-than-log = { $log } hat alle { $every } eine Position, und die Regeln zählen Teile einer Sekunde: die letzten Stellen sind nicht bekannt. Rennen in ganzen Sekunden werten.
race-without-area = das Rennen endet mit einer Marke, und die Aufgabe nennt dafür keine Wertungszone
launch-not-in-log = das Log zeigt den Start nicht
no-log-to-measure = kein Log, und diese Aufgabe wird am Track gemessen
log-begins-after-start = Das Log beginnt um { $time }, nach dem Beginn.
area-not-entered = der Track führt nach dem Beginn nicht in das Gebiet
inside-at-start = schon zu Beginn im Gebiet, { $time }
area-entered = der Track erreicht das Gebiet um { $time }
way-inside = innerhalb von { $start } bis { $end }: { $way }
no-way-inside = kein Weg des Tracks liegt im Luftraum der Aufgabe
ways-together = { $stays } Aufenthalte zusammen: { $total } { $surface }
term-along-the-slope = schräg gemessen
term-over-the-ground = über Grund
way-counts-between = gezählt von { $start } bis { $end }
log-pauses = Das Log setzt um { $time } für { $pause } aus. Dort zählt eine gerade Linie.

logger-mark = Logger-Marke „{ $name }“
log-without-marks = das Log enthält keine Marke: stattdessen eine Zeit eintragen
logger-marks-several = das Log enthält { $marks } Marken zur Wahl ({ $labels }): eine davon in der Bemerkung der Eintragung nennen, oder ihre Zeit eintragen
logger-marks-alike = das Log enthält { $marks } Marken mit dem Namen „{ $name }“ (es hat { $labels }): eine davon in der Bemerkung der Eintragung nennen, oder ihre Zeit eintragen
logger-mark-unknown = das Log enthält keine Marke mit dem Namen „{ $name }“ (es hat { $labels }): eine davon in der Bemerkung der Eintragung nennen, oder ihre Zeit eintragen

## Angesagte Ziele
goal-not-valid = Angesagtes Ziel „{ $goal }“ gilt nicht: { $why }.
no-valid-goal = kein gültiges angesagtes Ziel
no-goal-declared = kein Ziel angesagt
goals-that-count = { $declared } Ziele angesagt, höchstens { $most } erlaubt: { $which }
term-goals-first = die ersten zählen
term-goals-last = die letzten zählen
too-many-goals = { $declared } Ziele angesagt, höchstens { $most } erlaubt: in der Aufgabe sagen, ob die ersten oder die letzten zählen, oder die anderen streichen
goal-empty = die Ansage nennt kein Ziel und keine Koordinaten
goal-must-be-coordinates = diese Aufgabe verlangt Koordinaten, kein benanntes Ziel
goal-must-be-named = ein benanntes Ziel ist nötig ({ $goals })
goal-unknown = es ist keines der Ziele ({ $goals })
perhaps-meant = { $what }; vielleicht war { $goal } gemeint
declared-goal = angesagtes Ziel „{ $goal }“: { $means }
declared-goal-at-height = angesagtes Ziel „{ $goal }“ in { $height }: { $means }
goal-at = { $goal } ({ $at })
coordinates-read = Koordinaten { $text }: { $how }
no-goal-within = kein Ziel liegt innerhalb von { $radius } davon
no-goal-within-but = kein Ziel liegt innerhalb von { $radius } davon; das nächste ist { $nearest }, { $away } entfernt
goal-near-coordinates = { $goal } liegt { $away } von den Koordinaten entfernt
several-goals-meant = mehrere Ziele sind gemeint ({ $goals }): das für den Piloten schlechteste zählt
goal-ambiguous = gemeint sein könnte: { $goals }
goal-ambiguous-unanswered = gemeint sein könnte: { $goals }, und die Regeln der Veranstaltung sagen nicht, was zählt
no-place-for-figures = die Veranstaltung hat keinen Ort, der sagt, wohin ihre Gitterziffern gehören
goal-distance-unknown = Wie weit das Ziel „{ $goal }“ entfernt war, lässt sich nicht prüfen: weder das Log noch eine Eintragung sagt, wo dies war: { $start }.
goal-too-near = zu nah: { $goal } liegt { $away } entfernt, gemessen bis { $start }; mindestens { $least } sind verlangt
goal-too-far = zu weit: { $goal } liegt { $away } entfernt, gemessen bis { $start }; höchstens { $most } sind erlaubt
goal-distance = { $goal } liegt { $away } entfernt, gemessen bis { $start }
goal-near-limit = Zu nah an der Grenze für die Unsicherheit: { $goal } liegt { $away } entfernt, gemessen bis { $start }. Nachsehen.
goal-without-time = Ob das Ziel „{ $goal }“ rechtzeitig angesagt war, ist nicht bekannt: die Ansage hat keine Zeit. Die Zeit eintragen.
goals-due-unknown = Die Frist der Ansagen ist nicht bekannt; sie hängt ab von: { $moment }.
goal-late = Ziel { $late } zu spät angesagt
declared-late = Angesagt um { $declared }, Frist { $due }: { $late } zu spät.
coordinates-unreadable = „{ $text }“ ist weder ein Ziel noch Koordinaten: 4+4, 5+5 oder 6+6 Ziffern des Gitters der Veranstaltung (1234 5678), volle Ost- und Nordwerte, ein Gitterquadrat (30T VK 1234 5678), oder Breite und Länge (40.1234, -3.4567)
coordinates-too-far = „{ $text }“ liegt { $away } von der Veranstaltung entfernt, weiter als { $most }: die Ziffern prüfen
figures-unequal = „{ $text }“ hat nicht gleich viele Ziffern für Ost und Nord
no-such-square = „{ $text }“ ist kein Gitterquadrat, das es gibt
no-such-zone = eine Zone { $zone } von UTM gibt es nicht, nur 1 bis 60
grid-square = Gitterquadrat { $square }
full-figures = { $east } O, { $north } N
in-zone = { $how }, in Zone { $zone } von UTM
figures-completed = Ziffern { $figures }, jede zu { $unit } m, ergänzt nahe am Ort: { $east } O, { $north } N
figures-doubtful = die Ziffern { $figures } liegen { $off } vom Ort entfernt, also könnte das nächste Quadrat gemeint sein ({ $side }): die vollen Koordinaten eintragen

## Regeln und Strafen
rule-cited = { $rule }: { $value } ({ $source }, { $certainty })
rule-of-event = { $rule }: { $value } (von der Veranstaltung festgelegt)
rule-by-default = { $rule }: { $value } (unsere Wahl, die Veranstaltung sagt nichts anderes)
rule-prohibited = { $place } ist gesperrt; { $tolerance }
rule-of-task = { $what }, für die Aufgabe festgelegt
term-task-launch-period = Startzeit
term-task-scoring-period = Wertungszeit
all-of = { $parts }
rule-named = { $rule }
rule-and-paragraph = { $rule } ({ $own })
paragraph-and-penalty = { $own }, Strafe { $cost }
paragraph-of-penalty = Strafe { $cost }
rule-in-task = { $rule }, Aufgabe { $task }
rule-in-words = { $text }
term-certainty-confirmed = in einem veröffentlichten Text gelesen
term-certainty-one-source = eine Quelle oder eine alte Ausgabe
term-certainty-memory = aus dem Gedächtnis
term-certainty-practice = allgemeiner Brauch, keine Quelle
term-certainty-event = von der Veranstaltung festgelegt
term-certainty-choice = unsere Wahl
term-source-practice-height = Festivalpraxis: mindestens 75 ft über Grund bis in die Wertungszone
term-source-practice-until = Festivalpraxis: bis zum ersten Einflug in die Wertungszone
term-source-practice-contact = Festivalpraxis: Bodenberührung in der Wertungszone schließt von der Aufgabe aus
term-source-practice-launch = Festivalpraxis: ein Start zu nah am Ziel zählt nicht
term-source-marker-throw = ein Marker von 70 g mit Schweif, aus tiefem Überflug geworfen; nur zur Warnung
term-source-club-and-older-edition = übrige Rangpunkte gleichmäßig geteilt: Regeln eines Vereins und eine ältere Ausgabe
term-source-model-rules-symbols = Muster-Wettbewerbsregeln, Kapitel 14, Formelzeichen aus dem Gedächtnis
term-source-model-rules-checked = Muster-Wettbewerbsregeln, Kapitel 14; Verlauf an veröffentlichten Wertungen von 2014, 2022 und 2024 geprüft, Formelzeichen aus dem Gedächtnis
term-source-none-for-festivals = für Festivals kein veröffentlichter Text gefunden
term-source-none-found = kein veröffentlichter Text gefunden
term-source-no-tolerance = keine Toleranz, solange die Veranstaltung keine festlegt
term-source-last-decimal = eine Einheit der letzten Stelle eines veröffentlichten Ergebnisses
term-source-gas-races = veröffentlichte Regeln von Weitfahrten der Gasballone: gewertet wird allein die Entfernung
term-source-championship-2014 = Regeln einer Meisterschaft von 2014: 100 Aufgabenpunkte je angefangene Minute
term-source-cup-2000-goals = Regeln eines Europapokals, 2000: mehrere Ziele nahe den Koordinaten innerhalb von 200 m
term-source-cup-2000-counts = Regeln eines Europapokals, 2000: das ungünstigste zählt, keines ergibt kein Ergebnis
term-source-club-2021 = Regeln eines Ballonvereins, 2021
term-source-log-resolution = kürzeres Absinken liegt unter dem, was eine Aufzeichnung auflöst
term-source-state-2025-decimals = Regeln einer Landesmeisterschaft, 2025 (eine oder zwei Stellen)
term-source-state-2025-section-9 = Regeln einer Landesmeisterschaft, 2025, Abschnitt 9
term-source-whole-metres = ganze Meter: eine Landung ist auf einige Meter bekannt; gezeigt in Kilometern
amount-given = { $amount } gutgeschrieben
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
penalty-figures = { $parts }: { $amount }
penalty-figures-capped = { $parts }, höchstens { $most }: { $amount }
penalty-base = { $amount } dafür
penalty-per = { $units } { $of }{ ENDS($read, $of) ->
    [yes] { "" }
   *[no] { " " }({ $read })
  } über der Grenze{ $each ->
    [1] { "" }
   *[other] { " " }zu je { $each }
  }
penalty-step = { $amount } für das Ausmaß
penalty-at-most = { $cost }, höchstens { $most }
penalty-flat = { $amount }
penalty-each = { $amount } je { $of }
penalty-from = { $amount } ab { $over } { $of } über der Grenze
cost-task-points = { $amount ->
    [one] 1 Aufgabenpunkt
   *[other] { $amount } Aufgabenpunkte
  }
cost-event-points = { $amount ->
    [one] 1 Wettbewerbspunkt
   *[other] { $amount } Wettbewerbspunkte
  }
cost-metres = { $amount ->
    [one] 1 Meter auf das Ergebnis
   *[other] { $amount } Meter auf das Ergebnis
  }
term-exact-m = Meter
term-exact-ft = Fuß
term-exact-km = Kilometer
term-exact-mi = Meile
term-exact-s = Sekunde
term-exact-min = Minute
term-exact-h = Stunde
term-exact-degree = Grad
term-exact-percent = Prozent
term-started-m = angefangenem Meter
term-started-ft = angefangenem Fuß
term-started-km = angefangenem Kilometer
term-started-mi = angefangener Meile
term-started-s = angefangener Sekunde
term-started-min = angefangener Minute
term-started-h = angefangener Stunde
term-started-degree = angefangenem Grad
term-started-percent = angefangenem Prozent
term-full-m = vollem Meter
term-full-ft = vollem Fuß
term-full-km = vollem Kilometer
term-full-mi = voller Meile
term-full-s = voller Sekunde
term-full-min = voller Minute
term-full-h = voller Stunde
term-full-degree = vollem Grad
term-full-percent = vollem Prozent
term-unit-si = m oder s
term-unit-degree = Grad
term-unit-percent = Prozent
term-rule-not-answered = noch nicht beantwortet
term-rule-not-set = keine
term-within-scoring-area = die Wertungszone der Aufgabe
term-yes = ja
term-no = nein
term-choice-until-scoring-area = bis in die Wertungszone
term-choice-until-drop = bis zum Abwurf
term-choice-until-exit = bis zum Verlassen
term-choice-retry-first = der erste
term-choice-retry-last = der letzte
term-choice-several-least-advantageous = das, mit dem das Ergebnis am schlechtesten ist
term-choice-several-nearest = das nächste
term-choice-several-invalid = keines: die Ansage gilt nicht
term-choice-method-international = die Formel der Muster-Wettbewerbsregeln
term-choice-method-places = Punkte für jeden Platz
term-choice-method-none = keine Punkte: die Plätze gehen nach dem Ergebnis
term-choice-ties-shared-rank = sie teilen den besseren Platz
term-choice-ties-mean = das Mittel der Plätze, die sie einnehmen
term-choice-parted-by-nothing = nichts
term-choice-parted-by-earlier-drop = der frühere Abwurf
term-choice-ties-best-scores = nach der besten Aufgabe, dann der nächstbesten
term-choice-ties-most-wins = nach der Zahl gewonnener Aufgaben
term-choice-ties-last-task = nach der letzten Aufgabe
term-choice-counts-less-advantageous = die ungünstigere
term-choice-counts-more-advantageous = die günstigere
term-choice-counts-mean = ihr Mittel
term-choice-no-result-share = ein Anteil am Rest
term-choice-no-result-zero = keine
term-choice-no-result-next-place = die des Platzes nach dem letzten Ergebnis
term-choice-no-result-last-place = die des letzten Platzes
term-unit-m = m
term-unit-ft = ft
term-unit-km = km
term-unit-mi = mi
term-unit-s = s
term-unit-min = min
term-unit-h = Std.

## Punkte
points-none = diese Veranstaltung vergibt keine Punkte: die Plätze gehen nach dem Ergebnis
points-best = bestes Ergebnis: { $points } Punkte
points-of-place = Punkte für Platz { $rank }: { $points }
points-of-places = mittlere Punkte der Plätze { $first } bis { $last }: { $points }
points-by-result = Platz { $rank }, vor dem mittleren Platz { $median }: 1000 − (1000 − { $median_points }) × ({ $result } − { $best }) ÷ ({ $at_median } − { $best }) = { $points } Punkte
points-by-rank = Platz { $rank }, ab dem mittleren Platz { $median }: 1000 × ({ $entered } + 1 − { $rank }) ÷ { $entered } = { $points } Punkte
points-across-median = mittlere Punkte der Plätze { $first } bis { $last }: vor dem mittleren Platz { $median } je { $median_points } Punkte, ab ihm nach dem Platz von { $entered }: { $points } Punkte
class-of-one = Nach den Regeln wird jede Klasse für sich gewertet, und dieser Pilot ist allein in Klasse { $name }. Nachsehen, ob die Klasse wie die anderen geschrieben ist.
without-class = Nach den Regeln wird jede Klasse für sich gewertet, und hier ist keine Klasse eingetragen. Sie werden vorerst unter sich gereiht. Die Klasse eintragen.
tie-rounded = gleich mit { $others }: Ergebnisse zählen in Metern, gerundet, je { $metres } m
tie-parted = gleiches Ergebnis wie { $others }: der frühere erste Abwurf hat den besseren Platz, hier um { $at }
tie-stays = gleiches Ergebnis wie { $others }: vom ersten Abwurf von { $unknown } ist keine Zeit bekannt; sie teilen den Platz
tie-not-parted = { $pilots } haben dasselbe Ergebnis, und nach den Regeln trennt sie der frühere erste Abwurf. Vom ersten Abwurf von { $unknown } ist keine Zeit bekannt; sie teilen vorerst den Platz. Die Zeit eintragen.
points-without-result = kein Ergebnis: keine Punkte
points-of-next-place = kein Ergebnis: Punkte für Platz { $rank }, nach dem letzten Ergebnis: { $points }
points-of-last-place = kein Ergebnis: Punkte für Platz { $rank }, den letzten: { $points }
points-nobody = niemand hat ein Ergebnis: je { $points } Punkte
points-shared = kein Ergebnis: die Hälfte von 1000 × ({ $entered } + 1 − { $scorers }) ÷ { $entered } = { $points } Punkte
points-at-least = { $how }; wer gefahren ist, hat mindestens { $least }

## Vom Ergebnis zur Wertung
nothing-known = keine Marke, kein Log, keine Meldung: gilt als nicht gefahren
reported-not-flown = nicht gefahren, gemeldet von { $by }
same-name = Der Name { $what } steht unter mehreren Nummern. Eine davon berichtigen oder zurückziehen, oder annehmen, dass es verschiedene Personen sind.
same-registration = Das Kennzeichen { $what } steht unter mehreren Nummern. Es berichtigen, oder annehmen, dass sie denselben Ballon fahren.
alike-names = { $one } und { $other } schreiben sich fast gleich und stehen unter zwei Nummern. Ist es eine Person, eine der beiden zurückziehen.
columns-exchanged = { $pilots ->
    [one] Bei einem Piloten steht
   *[other] Bei { $pilots } Piloten steht
  } der Name einer Person in der Spalte { $column } und etwas anderes als Name („{ $own }“ neben „{ $beside }“). Die Spalten sind wohl vertauscht: die Pilotenliste berichtigen.
codes-exchanged = { $pilots ->
    [one] Bei einem Piloten steht
   *[other] Bei { $pilots } Piloten steht
  } in der Spalte { $column }, was wie ein Kennzeichen aussieht, und etwas anderes als Kennzeichen („{ $own }“ neben „{ $beside }“). Die Spalten sind wohl vertauscht: die Pilotenliste berichtigen.
numbers-exchanged = { $pilots ->
    [one] Bei einem Piloten stehen
   *[other] Bei { $pilots } Piloten stehen
  } eine lange Nummer und eine kurze Seriennummer des Loggers (Nummer { $number } neben Logger „{ $logger }“). Die Spalten sind wohl vertauscht: die Pilotenliste berichtigen.
letters-misread = { $pilots ->
    [one] Ein Name hat
   *[other] { $pilots } Namen haben
  } Buchstaben, die ein Programm falsch gelesen hat: „{ $name }“ heißt wohl „{ $meant }“. Die Liste dort, woher sie kommt, als UTF-8 speichern und neu einlesen, oder die Namen berichtigen.
letters-lost = { $pilots ->
    [one] Ein Name hat
   *[other] { $pilots } Namen haben
  } ein Zeichen, wo ein Buchstabe verloren ging („{ $name }“). Die Liste dort, woher sie kommt, als UTF-8 speichern und neu einlesen, oder die Namen berichtigen.
term-column-registration = Kennzeichen
term-column-logger = Logger
term-column-class = Klasse
term-column-country = Land
same-logger = Der Logger { $what } steht unter mehreren Nummern. Ihn berichtigen: seine Logs können nicht sagen, wessen sie sind.
still-flying = Noch unterwegs, sagt { $by }. Vorerst zählt es als kein Ergebnis. Die Marke oder die Landung eintragen, oder „keine Marke“, wenn keine abgeworfen wurde.
nobody-known = Die Aufgabe steht als gefahren, und von niemandem ist etwas bekannt: keine Marke, kein Log, keine Meldung. Sie gibt keine Punkte. Eintragen, was gesehen wurde, oder sie auf geplant oder abgesagt setzen.
entered-for-planned = { $entries ->
    [one] 1 Eintragung gilt
   *[other] { $entries } Eintragungen gelten
  } einer Aufgabe, die als geplant steht, und zählen nichts. Die Aufgabe auf gefahren setzen, oder sie zurückziehen.
logs-for-planned = { $logs ->
    [one] 1 Log ihrer Fahrt liegt
   *[other] { $logs } Logs ihrer Fahrt liegen
  } vor, und die Aufgabe steht als geplant: Logs allein ändern das nicht. Sie gibt keine Punkte, und nichts in den Logs wird für sie angesehen. Die Aufgabe auf gefahren setzen, oder auf abgesagt, wenn sie nicht gefahren wurde.
accounted-for = von { $accounted } der { $entered } ist der Verbleib bekannt
not-yet-accounted-for = Von { $accounted } der { $entered } ist der Verbleib bekannt. Es fehlen: { $missing }
result-lost = Kein Ergebnis, weil etwas nicht eingetragen ist: { $why }. Es eintragen oder hinnehmen, dass es kein Ergebnis gibt.
not-accounted-for = Verbleib unbekannt: { $pilots }. Keine Marke, kein Log, keine Meldung: sind sie gefahren?
withdrawn-but-log = { $by } meldet, dass der Pilot ab dieser Aufgabe ausgeschieden ist, aber es gibt ein Log. Vorerst ist er zu ihr nicht gemeldet.
not-flown-but-seen = Von { $by } als nicht gefahren gemeldet, aber { $other } meldet { $what }: eine der beiden Meldungen meint vielleicht einen anderen Piloten.
not-flown-but-log = Von { $by } als nicht gefahren gemeldet, aber es gibt ein Log.
no-log = Kein Log: Höhen, Start und Zeiten werden nicht geprüft. Den Piloten darum bitten, oder ihm ein übriges Log geben.
no-log-many = { $pilots } Piloten ohne Log: Ihre Höhen, Starts und Zeiten werden nicht geprüft.
log-ends-its-process = { $log }: der Rechner beendete zweimal den Prozess, der an diesem Log arbeitete. Es bleibt außen vor; alle anderen Logs zählen. War der Speicher knapp, andere Programme schließen und neu werten; sonst dies mit dem Log melden.
did-not-fly = nicht gefahren
by-infringement = { $what }
for-infringement = für { $what }
penalty-imposed = von der Wettbewerbsleitung verhängt
disqualified-because = disqualifiziert: { $cause }, { $ruling }
no-result-because = { $cause }, { $ruling }
ruled = { $parts }
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
step-group-b = gefahren, kein Ergebnis: { $why }
step-group-c = { $why }
step-result = { ALIKE($measured, $result) ->
    [yes] Ergebnis: { $result }
   *[no] Ergebnis: { $measured }, gerundet { $result }
  }
step-result-more = Ergebnis: { $measured } und { $penalty } Strafe dazu: { $result }
step-result-less = Ergebnis: { $measured } weniger { $penalty } Strafe: { $result }
step-result-not-under-0 = Ergebnis: { $measured } weniger { $penalty } Strafe, nicht unter 0: { $result }
penalty-left-out = eine Strafe von { $penalty } kann nicht in ein Ergebnis eingehen, das keine Länge ist: weggelassen
points-did-not-fly = nicht gefahren oder disqualifiziert: keine Punkte
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

## Entscheidungen
not-charged-yet = Nicht angerechnet, solange kein Offizieller es so entscheidet.
no-penalty-set = Die Veranstaltung legt dafür keine Strafe fest.
charged-for-now = Zählt vorerst: { $costs }.
amount-unusual = { $who } entschied { $amount }. { $beside } Der Betrag zählt wie eingetragen. War es ein Versehen, die Entscheidung neu eintragen; sonst annehmen.
amount-proposed = Das ist das Zehn- oder Hundertfache dessen, was die Regeln vorschlagen, oder ein Teil davon: { $amount }.
amount-usual = Das ist das Zehn- oder Hundertfache dessen, was gleiche Entscheidungen geben, oder ein Teil davon: { $amount }.
amount-of-all = Das ist so viel, wie ein Sieger für eine ganze Aufgabe bekommt.
penalty-added-again = { $amount }: { $times }-mal verhängt (von { $who }), und jedes Mal zählt es. Entfernen, was doppelt eingetragen ist, oder so annehmen.
ruling-meets-nothing = Die Entscheidung „{ $decision }“ zu { $what } passt zu nichts, was bei diesem Piloten in dieser Aufgabe gefunden wurde. Sie ist zurückzunehmen; ist dennoch eine Strafe fällig, dann als eigene.
infringement-at = { $what } um { $at }
kind-written = { $what } (in der Datei: { $key })
ruling-on-no-kind = Die Entscheidung „{ $decision }“ nennt „{ $finding }“, und das ist keine Art von Verstoß. Zu schreiben ist: { $kinds }.
rulings-now-on-one = { $earlier } und { $last } galten zwei Verstößen, die jetzt einer sind: neu entscheiden.
ruling-costs-nothing = { $ruling } kostet nichts, da keine Strafe zu bestätigen ist. Einen Betrag setzen, erlassen, oder die Entscheidung rückgängig machen. { $seen }
ruling-on-another-value = { $ruling } galt, als das Log { $was } zeigte; jetzt zeigt es { $now }: neu entscheiden. { $seen }
ruling-replaced = { $earlier } zählt nicht mehr: { $last } wurde danach entschieden.

undecided = { $seen } { $now }
undecided-many = { $pilots } Piloten: { $what }, noch nicht entschieden.

## Verstöße: wie sie heißen
finding-floor = Unter der Mindesthöhe
finding-ground-contact = Bodenberührung
finding-launch-distance = Startplatz
finding-launch-period = Start außerhalb der Startzeit
finding-launch-area = Start außerhalb des Startgebiets
finding-scoring-period = Marke außerhalb der Wertungszeit
finding-airspace = Gesperrter Luftraum
finding-boundary = Außerhalb der Grenze
finding-night = Fahrt bei Nacht
finding-late-declaration = Verspätete Ansage
term-finding-floor = Fahrt unter der Mindesthöhe
term-finding-ground-contact = Bodenberührung
term-finding-launch-distance = Startplatz
term-finding-launch-period = Startzeit
term-finding-launch-area = Startgebiet
term-finding-scoring-period = Zeit der Marke
term-finding-airspace = gesperrter Luftraum
term-finding-boundary = Verlassen der Grenze
term-finding-night = Fahrt bei Nacht
term-finding-late-declaration = verspätete Ansage

## Verstöße: was gesehen wurde
seen-low = { $lowest }, wo { $limit } die Mindesthöhe ist. { $depth } zu niedrig, { $duration } lang, zu { $sure } sicher.
seen-near-minimum = { $lowest } bei einer Mindesthöhe von { $limit }. { $duration } lang näher daran, als das Log unterscheiden kann; mit { $sure } Wahrscheinlichkeit zu tief.
seen-low-let-pass = { $lowest }, wo { $limit } die Mindesthöhe ist. { $depth } zu niedrig, { $duration } lang: nicht beanstandet, denn die Toleranz ist { $tolerance } und die kürzeste Dauer { $least_time }.
seen-in-doubt = { $seen } { $doubt }
doubt-estimates = Das Log zeigt keine Zeit am Boden, daher sind Höhen Schätzungen (± { $give_or_take }).
doubt-end-unknown = Bis wann die Mindesthöhe galt, ist nicht bekannt: die Zeit des Abwurfs oder die Wertungszone fehlt.
doubt-pause = Es beruht auf einer Lücke des Logs oder auf weit auseinander liegenden Positionen.
doubt-unseen = Außer, es ist ein Start oder eine Landung, die das Log auslässt.
seen-contact = Bodenberührung, zu { $sure } sicher: { $signs }.
contact-height = tiefster Punkt { $height } über Grund (± { $give_or_take })
contact-drift = { $percent } % der Geschwindigkeit in Sekunden verloren
contact-stop = Steigen oder Sinken änderte sich um { $change } innerhalb von { $within }
seen-landing = Gelandet, wo den Boden zu berühren gegen die Regel ist: { $place }.
term-a-place = ein Ort
term-the-scoring-area = die Wertungszone
seen-airspace = { $place }: bis zu { $depth } innerhalb, { $duration } lang, in { $altitude } über dem Meer, zu { $sure } sicher.
seen-outside-boundary = { $place }: bis zu { $depth } außerhalb, { $duration } lang, zu { $sure } sicher.
seen-launch-too-near = Start { $away } vom Ziel; { $limit } ist der Mindestabstand. { $beyond } zu nah, zu { $sure } sicher.
seen-launch-too-far = Start { $away } vom Ziel; { $limit } ist der größte Abstand. { $beyond } zu weit, zu { $sure } sicher.
seen-launch-outside = Start { $away } außerhalb: { $place }, zu { $sure } sicher.
seen-early = { $act } { $beyond } vor dem Beginn ({ $period }), zu { $sure } sicher.
seen-late = { $act } { $beyond } nach dem Ende ({ $period }), zu { $sure } sicher.
seen-perhaps-early = { $act } { $within } nach Beginn ({ $period }), der Zeitpunkt ist auf { $off } bekannt: { $sure } sicher, dass es zu früh war.
seen-perhaps-late = { $act } { $within } vor dem Ende ({ $period }), der Zeitpunkt ist auf { $off } bekannt: { $sure } sicher, dass es zu spät war.
seen-polar-night = { $act } um { $time }, während die Sonne hier gar nicht aufgeht, zu { $sure } sicher.
polar-day = Die Sonne geht hier zu dieser Jahreszeit nicht unter: kein Moment dieser Fahrt liegt vor Sonnenaufgang oder nach Sonnenuntergang.
polar-day-many = Die Sonne geht hier zu dieser Jahreszeit nicht unter: kein Moment der Fahrten von { $pilots } Piloten liegt vor Sonnenaufgang oder nach Sonnenuntergang.
matter-polar-day = Sonne Tag und Nacht am Himmel
term-act-launched = Start
term-act-landed = Landung
term-act-dropped = Abwurf
term-daylight = Tageslicht, das die Regeln erlauben
reported = { $by } meldete { $what }.
reported-with-note = { $by } meldete { $what }: „{ $note }“.
reported-what = { $what }
reported-at = { $what } in { $height }
term-an-official = Ein Offizieller
term-report-ground-contact = eine Bodenberührung
term-report-low = eine Fahrt unter der Mindesthöhe

## Logs, und Marken gegen Tracks
stood-from-to = { $start } bis { $end }
launched-again = { $log } zeigt einen Aufenthalt am Boden, { $stands }, und einen weiteren Start. Für Startplatz und Startzeit zählt der { $launch } Start. Prüfen, ob die Regeln es erlauben.
term-launch-first = erste
term-launch-last = letzte
floor-unknown = { $log }: { $lasts } lang, ab { $start }, ist der Boden oder die Höhe nicht bekannt, wo die Mindesthöhe gilt. Darüber wird dort nichts gesagt. Bodenhöhen angeben, die die ganze Fahrt abdecken.
contact-unknown = { $log }: { $lasts } lang, ab { $start }, ist der Boden oder die Höhe nicht bekannt, wo der Boden nicht berührt werden darf. Eine Bodenberührung kann das Log dort nicht zeigen. Bodenhöhen angeben, die die ganze Fahrt abdecken.
contact-unknown-many = Bei { $pilots } Piloten ist der Boden oder die Höhe nicht bekannt, wo der Boden nicht berührt werden darf. Eine Bodenberührung können ihre Logs dort nicht zeigen. Bodenhöhen angeben, die die ganze Fahrt abdecken.
floor-unknown-many = Bei { $pilots } Piloten ist der Boden oder die Höhe nicht bekannt, wo die Mindesthöhe gilt. Darüber wird dort nichts gesagt. Bodenhöhen angeben, die die ganze Fahrt abdecken.
log-has-pauses = { $log } hat in der Luft { $pauses ->
    [one] eine Lücke von { $longest }
   *[other] { $pauses } Lücken von bis zu { $longest }
  }. Was dort gefahren wurde, ist nicht bekannt; Lücken über { $least } werden genannt.
clock-dated-early = { $log } trägt das Datum { $dated }, { $days ->
    [one] 1 Tag
   *[other] { $days } Tage
  } vor der Fahrt. Das Log und seine Fahrt prüfen.
clock-dated-late = { $log } trägt das Datum { $dated }, { $days ->
    [one] 1 Tag
   *[other] { $days } Tage
  } nach der Fahrt. Das Log und seine Fahrt prüfen.
clock-week-count = { $log } trägt das Datum { $dated }, { $days } Tage neben der Fahrt: der Empfänger begann seine Zählung von 1.024 Wochen von vorn. Seine Uhrzeiten können stimmen.
clock-fits-other = { $log } passt nicht zu dieser Fahrt, aber zu Fahrt { $flight }. Gehört es dorthin, es dorthin legen. Verstöße gegen Zeiten sind nur möglich.
clock-open = { $log }: { $why }. Seine Zeiten können darum falsch sein. Verstöße gegen Zeiten sind nur möglich.
seen-by-disputed-heights = { $seen } Ein anderes Log dieses Piloten zeigt andere Höhen.
seen-by-impossible-heights = { $seen } Die Höhen des Logs können da nicht stimmen.
seen-by-doubtful-clock = { $seen } Die Uhr des Logs ist zweifelhaft.
clock-ends-before = { $log } endet { $apart } vor Beginn aller Zeiten der Fahrt. Eine falsche Zeitzone oder Uhr verschiebt ein Log um ganze Stunden.
clock-begins-after = { $log } beginnt { $apart } nach Ende aller Zeiten der Fahrt. Eine falsche Zeitzone oder Uhr verschiebt ein Log um ganze Stunden.
clock-no-launch = { $log } beginnt um { $at } in der Luft: der Start ist nicht darin.
clock-no-landing = { $log } endet um { $at } in der Luft: die Landung ist nicht darin.
clock-too-fast = { $log } hat { $jumps ->
    [one] einen Sprung
   *[other] { $jumps } Sprünge
  } schneller als { $faster }, den ersten von { $way } um { $at }. Auf das, was es dort zeigt, ist kein Verlass.
clock-doubtful = Die Uhr von { $log } geht vielleicht falsch: { $grounds }. Nichts sagt, was stimmt. Bis das geklärt ist, ist nichts sicher, was auf ihren Zeiten beruht. Eintragen, wann eine Marke fiel, wie jemand es sah, oder das falsche Log entfernen.
clock-proposed = Die Uhr von { $log } geht anscheinend falsch: { $grounds }. Ihre Zeiten wären { $off } { $way }, auf { $give_or_take } genau. Bis dahin zählen sie, wie sie sind, und nichts ist sicher, was auf ihnen beruht. Dies annehmen, um sie zu verschieben. Stimmt das Log, die eingetragenen Zeiten berichtigen oder eintragen, wann eine Marke fiel.
clock-by-marks = { $marks ->
    [one] eine Marke wurde zu einer anderen Zeit notiert, als der Track sie passiert
   *[other] { $marks } Marken wurden zu anderen Zeiten notiert, als der Track sie passiert, alle um etwa gleich viel
  }
clock-by-log = { $other } desselben Piloten zeigt denselben Track zu anderen Zeiten
clock-by-field-days = das Log ist von einem anderen Tag, und sein Start passt zur gleichen Tageszeit zu dem der anderen Ballone
clock-by-field-hours = sein Start passt um ganze Stunden verschoben zu dem der anderen Ballone, wie bei falscher Zeitzone
clock-by-field = kein anderer Ballon fuhr zu seinen Zeiten
term-clock-later = später
term-clock-earlier = früher
clock-moved = alle Zeiten verschoben: { $off } { $way }, auf { $give_or_take } genau
step-clock-moved = Alle Zeiten von { $log } sind { $off } { $way }, als das Log sie hat, auf { $give_or_take } genau: seine Uhr ging falsch, und ein Offizieller hat das angenommen.
clock-jump = Die Uhr von { $log } springt um { $at } um { $ahead } vor: der Ballon fuhr inzwischen { $way }.
mark-astray = { $what } { $others }
mark-of = Die Marke von Pilot { $pilot }
mark-named = Marke { $mark } von Pilot { $pilot }
mark-without-flight = { $mark } lässt sich nicht vergleichen: { $log } zeigt keine Fahrt.
mark-beyond-throw = { $mark } liegt { $away } vom Track entfernt ({ $log }; am nächsten um { $at }), { $beyond } weiter, als ein Wurf trägt ({ $reach }).
mark-at-other-time = { $mark } wurde um { $noted } notiert, als der Track von { $log } { $then } entfernt war. Nahe kam er ({ $away }) um { $at }.
mark-in-pause = { $mark } lässt sich mit { $log } nicht vergleichen: Das Log hat von { $start } bis { $end } eine Lücke, und der Marker kann da gefallen sein. Die Marke zählt wie eingetragen.
mark-before-log = { $mark } lässt sich mit { $log } nicht vergleichen: Das Log beginnt um { $end } in der Luft, und der Marker kann vorher gefallen sein. Die Marke zählt wie eingetragen.
mark-after-log = { $mark } lässt sich mit { $log } nicht vergleichen: Das Log endet um { $start } in der Luft, und der Marker kann später gefallen sein. Die Marke zählt wie eingetragen.
mark-fits-nobody = Kein anderer Track der Fahrt kommt ihr nahe. Nummer, Marke und Log prüfen.
marks-swapped = Die Marken der Piloten { $pilot } und { $other } passen jeweils zur Fahrt des anderen. Vielleicht sind Nummern oder Logs vertauscht.
mark-fits = Sie passt zur Fahrt von { $named }. Nummer, Marke und Log prüfen.
mark-fits-many = Sie passt zu den Fahrten von { $named } und { $more } weiteren. Nummer, Marke und Log prüfen.
mark-unlike-throw = { $mark } liegt { $away } vom Track von { $log } entfernt (am nächsten um { $at }): weiter als fast alle Marken dieser Fahrt von ihren.
mark-unlike-aim = { $mark } liegt { $aimed } vom Ziel entfernt, an dem der Track von { $log } mit { $near } Abstand vorbeiführt (der Marke am nächsten um { $at }): kaum eine Marke dieser Fahrt weicht so weit ab.
mark-not-in-the-air = { $mark } wurde um { $noted } notiert, als { $log } den Piloten nicht in der Luft zeigt.
mark-not-unusual = { $mark } ist für sich allein nicht ungewöhnlich.
mark-fits-none = Nichts anderes passt deutlich besser. Nummer, Zeit und Zettel prüfen.
rows-shifted = { $rows } Marken in der Reihenfolge ihrer Eingabe, von der des Piloten { $first } bis zu der des Piloten { $last }, passen weit besser zu den Fahrten der Piloten eine Zeile { $way } als zu den eigenen. Vielleicht ist der Zettel um eine Zeile verrutscht. Jede zählt vorerst wie eingetragen. Die Eintragungen mit dem Zettel vergleichen.
term-row-after = tiefer
term-row-before = höher
stack-twice = { $same } der { $both } Piloten mit Marken in Aufgabe { $one } und Aufgabe { $other } haben in beiden dieselben Zahlen. Vielleicht wurde ein Stapel Zettel in beiden Aufgaben eingegeben. Alle zählen vorerst. Die Zettel vergleichen und zurücknehmen, was doppelt ist.
stack-reference = { $what } { $meant } Dasselbe gilt für andere Marken, die von { $start } gemessen sind.
stack-reference-many = { $pilots } Piloten haben Marken, die als von { $start } gemessen eingetragen sind und zu ihren Fahrten passen, wenn sie von { $place } gemessen wurden. Vielleicht wurde für alle ein Bezugspunkt notiert. Sie zählen vorerst wie eingetragen. Die Zettel prüfen und alle so nehmen, wie sie passen, oder jede für sich.
stack-turned = { $what } { $meant } Dasselbe gilt für andere Peilungen von { $start }.
stack-turned-many = { $pilots } Piloten haben Marken mit Peilungen von { $start }, die zu ihren Fahrten passen, wenn die Peilungen vom anderen Ende abgelesen wurden. Sie zählen vorerst wie eingetragen. Die Zettel prüfen und alle so nehmen, wie sie passen, oder jede für sich.
stack-unit = { $what } { $meant } Dasselbe gilt für andere Entfernungen von { $start }.
stack-unit-many = { $pilots } Piloten haben Marken, von { $start } gemessen, die zu ihren Fahrten passen, wenn die Entfernungen in { $unit } sind. Sie zählen vorerst wie eingetragen. Die Zettel prüfen und alle so nehmen, wie sie passen, oder jede für sich.
stack-task = { $what } { $meant } Dasselbe gilt für andere Marken, die von { $start } gemessen sind.
stack-task-many = { $pilots } Piloten haben Marken, die zu ihren Fahrten als Marken der Aufgabe { $other } passen. Vielleicht wurde ein Stapel Zettel in der falschen Aufgabe eingegeben. Sie zählen vorerst wie eingetragen. Die Zettel prüfen und alle so nehmen, wie sie passen, oder jede für sich.
meant-turned = Sie passt zur Fahrt, wenn die Peilung { $bearing } ist, vom anderen Ende gelesen. Den Zettel prüfen.
meant-reference = Sie passt zur Fahrt, wenn sie von { $place } aus gemessen wurde. Den Zettel prüfen.
meant-task = Sie passt zur Fahrt als Marke der Aufgabe { $task }. Den Zettel prüfen.
meant-unit = Sie passt zur Fahrt, wenn die Strecke in { $unit } gemeint ist: { $distance }. Den Zettel prüfen.
meant-digits = Sie passt zur Fahrt, wenn „{ $text }“ „{ $instead }“ ist, zwei Ziffern vertauscht. Den Zettel prüfen.
meant-side = Sie passt zur Fahrt auf der Seite { $side } der Linie. Den Zettel prüfen.
track-reaches = Pilot { $pilot } ({ $away } um { $at })
logs-of-one-flight = { $log } von Pilot { $pilot } und { $other_log } von Pilot { $other } zeigen ein und dieselbe Fahrt: zwei Logger in einem Korb, oder ein Log unter falscher Nummer. Herausfinden, wessen Fahrt es ist.
marks-on-other-track = Alle { $marks } Marken von Pilot { $pilot } liegen abseits des Tracks von { $log } und auf dem von { $other_log }, dem Log von Pilot { $other }. Wahrscheinlich ist es das Log eines anderen: beide prüfen.

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
term-sign-file-number-name = eine Nummer im Dateinamen neben einem Teil des Namens dieses Piloten
term-sign-basket = die Fahrt in einem Korb mit einem Log des Piloten
term-sign-marks = die Marken des Piloten, die sein Track erreicht
sign-fits = { $sign } passt zu Pilot { $pilots }
sign-fits-many = { $sign } passt zu { $pilots } anderen Piloten und nicht zu diesem
sign-fits-nobody = { $sign } („{ $written }“) passt zu niemandem auf der Pilotenliste
marks-off-track = { $marks ->
    [one] die Marke des Piloten liegt abseits des Tracks
   *[other] { $marks } Marken des Piloten liegen abseits des Tracks
  }
log-may-be = es kann das von Pilot { $pilot } sein ({ $chance })
no-such-pilot = einen Piloten { $pilot } gibt es nicht
log-by-hand-contradicted = { $log } wurde von Hand Pilot { $pilot } zugeordnet, aber { $against }. Es bleibt dabei. Prüfen, wessen Log es ist.
log-contradicted = { $log } ist wahrscheinlich das Log von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }; dagegen: { $against }. Es zählt vorläufig für diesen Piloten. Prüfen, wessen Log es ist, und es von Hand zuordnen.
log-likely = { $log } ist wahrscheinlich das Log von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }. Das allein genügt nicht. Es zählt vorläufig für diesen Piloten. Prüfen, wessen Log es ist, und es von Hand zuordnen.
log-unlikely = { $log }: am ehesten das von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }. Das genügt nicht: es zählt für niemanden. Von Hand zuordnen.
log-ambiguous = { $log }: am ehesten das von Pilot { $pilot } ({ $chance }); dafür spricht: { $signs }; dagegen: { $against }. Es zählt für niemanden. Von Hand zuordnen.
log-unmatched = { $log }: weder das Log noch sein Name sagt, wessen es ist. Es zählt für niemanden. Von Hand zuordnen. Gesucht werden Namen, Kennzeichen und Seriennummern im Log und in den Namen von Datei und Ordnern, und Nummern, die die des Piloten genannt werden („pilot 12.igc“).
log-near = { $log } passt zu keinem Piloten: { $near }. Es zählt für niemanden. Ordnen Sie es zu.
log-near-one = { $sign } („{ $written }“) weicht in einem Zeichen von der von { $pilot } ab
log-other-time = { $log } zählt für Pilot { $pilot }, hat aber nichts in den Zeiträumen der Aufgaben dieser Fahrt: das Log eines anderen Tages, oder seine Uhr geht falsch. Das richtige Log suchen oder annehmen, dass es zählt.
log-far-off = { $log } zählt für Pilot { $pilot }, startete aber { $away } von dort, wo irgendein anderes Log dieser Fahrt begann: das Log eines anderen Treffens oder eines anderen Piloten. Das richtige Log suchen oder annehmen, dass es zählt.
log-contested = Mehrere Logs sind sicher die von Pilot { $pilot } und waren zugleich an verschiedenen Orten: vorläufig zählt { $lead }, nicht { $others }. Eines ist das eines anderen Ballons. Von Hand seinem Piloten zuordnen.
log-several = Pilot { $pilot } hat mehrere Logs. Es zählt: { $counts }. Es zählt nicht: { $others }.
log-joined = Pilot { $pilot } hat mehrere Logs dieser Fahrt. Sie zählen als ein Track: { $lead } führt; { $others } füllt, was darin fehlt.
log-by-hand = { $log }, von Hand zugeordnet
log-with-fixes = { $log } ({ $fixes ->
    [one] 1 Position
   *[other] { $fixes } Positionen
  })
log-matched = zugeordnet ({ $chance }); dafür spricht: { $signs }
log-matched-by-hand = von Hand zugeordnet
log-not-matched = nicht zugeordnet
log-broken = { $why }. Dieses Log bleibt außen vor; alle anderen zählen.
log-fails = { $log }: das Programm scheitert daran ({ $error }). Dieses Log bleibt außen vor; alle anderen zählen. Dies mit dem Log melden.

## Was in einem Log weggelassen oder berichtigt wurde
log-repaired = { $log }: { $repairs }.
log-repaired-many = In den Logs von { $pilots } Piloten wurde etwas weggelassen oder berichtigt.
log-left-out = { $log } enthält mehr als diese Fahrt. Nicht beurteilt: { $parts }.
log-heights-other = { $log } und { $other } fuhren in einem Korb und zeigen Höhen, die bis zu { $most } auseinanderliegen ({ $whiles }). Die Höhen zählen nach { $log }; kein Verstoß danach ist in dieser Zeit sicher. Prüfen, welches der Logs stimmt.
log-heights-while = von { $start } bis { $end }
log-heights-under = { $log } zeigt den Korb bis zu { $most } unter dem Boden ({ $whiles }): Die Höhen können da nicht stimmen. Kein Verstoß danach ist in dieser Zeit sicher. Log und Gelände dort prüfen.
log-heights-off-ground = Die Höhen in { $log } können nicht stimmen: Wo der Ballon stand, liegen sie { $most } neben dem Boden, wie die eines Loggers, der Fuß schreibt. Kein Verstoß nach seinen Höhen ist sicher. Prüfen, in welcher Einheit der Logger schreibt, und die Höhe des Bodens.
log-heights-fast = Die Höhen in { $log } können nicht stimmen: Sie ändern sich mit { $most }, schneller als ein Ballon steigt oder fällt, wie die eines Loggers, der Fuß schreibt. Kein Verstoß nach seinen Höhen ist sicher. Prüfen, in welcher Einheit der Logger schreibt.
log-heights-never-up = { $log } erhebt sich nie über den Boden: Es zeigt keine Fahrt, als wäre es im Auto geblieben. Kein Verstoß nach seinen Höhen ist sicher. Prüfen, wessen Log es ist und woher.
log-left-out-many = Die Logs von { $pilots } Piloten enthalten mehr als diese Fahrt; der Rest wird nicht beurteilt.
log-part = { $what } von { $start } bis { $end }
term-part-flight = eine andere Fahrt
term-part-ride = eine Autofahrt
term-part-rope = ein Fesselaufstieg
repair-garbled-line = { $count ->
    [one] 1 unlesbare Zeile
   *[other] { $count } unlesbare Zeilen
  } weggelassen
repair-garbled-fix = { $count ->
    [one] 1 unlesbare Position
   *[other] { $count } unlesbare Positionen
  } weggelassen
repair-garbled-altitude = { $count ->
    [one] 1 unlesbare Höhe
   *[other] { $count } unlesbare Höhen
  } weggelassen
repair-garbled-extension = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } ohne unlesbaren Zusatz behalten
repair-no-time = { $count ->
    [one] 1 Position ohne Zeit
   *[other] { $count } Positionen ohne Zeit
  } weggelassen
repair-bad-time = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } mit einer Zeit außerhalb von 1970 bis 2100 weggelassen
repair-bad-position = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } ohne Ort auf der Erde weggelassen
repair-no-position = { $count ->
    [one] 1 Zeitpunkt ohne gemessenen Ort
   *[other] { $count } Zeitpunkte ohne gemessenen Ort
  } weggelassen
repair-no-3d-altitude = { $count ->
    [one] 1 Höhe 0
   *[other] { $count } Höhen 0
  } von Positionen ohne Höhe weggelassen
repair-duplicate-time = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } mit der Zeit der vorigen weggelassen
repair-backward-time = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } mit Zeit außer der Reihe weggelassen
repair-parts-reordered = { $count ->
    [one] 1 Aufzeichnung
   *[other] { $count } Aufzeichnungen
  } in falscher Folge angefügt, umgestellt
repair-joined = { $count ->
    [one] 1 weitere Aufzeichnung
   *[other] { $count } weitere Aufzeichnungen
  } in derselben Datei, angefügt
repair-too-many-headers = { $count ->
    [one] 1 weitere Kopfzeile
   *[other] { $count } weitere Kopfzeilen
  } weggelassen
repair-too-many-marks = { $count ->
    [one] 1 weiterer Wegpunkt
   *[other] { $count } weitere Wegpunkte
  } weggelassen
repair-mark-without-time = { $count ->
    [one] 1 Wegpunkt ohne Zeit
   *[other] { $count } Wegpunkte ohne Zeit
  } weggelassen
repair-no-zone = { $count ->
    [one] 1 Zeit
   *[other] { $count } Zeiten
  } ohne Zeitzone, als UTC gelesen
repair-bad-checksum = { $count ->
    [one] 1 Datensatz
   *[other] { $count } Datensätze
  } mit falscher Prüfsumme weggelassen
repair-cut-sentence = { $count ->
    [one] 1 Datensatz
   *[other] { $count } Datensätze
  }, vor der Prüfsumme abgebrochen, weggelassen
repair-no-checksum = { $count ->
    [one] 1 Datensatz
   *[other] { $count } Datensätze
  } ohne Prüfsumme, verwendet wie gefunden
repair-null-position = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } bei Breite und Länge 0 weggelassen, ab { $start }
repair-clock-jump = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } aus der Zeit, als die Uhr um einen halben Tag oder mehr falsch ging, weggelassen, ab { $start }
repair-far-off = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } über { $apart } abseits der Fahrt weggelassen, ab { $start }
repair-position-spike = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  }, nur mit über { $faster } zu erreichen, weggelassen, ab { $start }
repair-jump = { $count ->
    [one] 1 Sprung, der nicht zurückführt, um { $start },
   *[other] { $count } Sprünge, die nicht zurückführen, der erste um { $start },
  } belassen
repair-no-satellite-altitude = Satellitenhöhe durchweg 0, gilt als nicht aufgezeichnet
repair-satellite-altitude-beyond = { $count ->
    [one] 1 Satellitenhöhe
   *[other] { $count } Satellitenhöhen
  }, die kein Ballon erreicht, entfernt, ab { $start }
repair-satellite-altitude-spike = { $count ->
    [one] 1 Satellitenhöhe
   *[other] { $count } Satellitenhöhen
  }, nur mit über { $faster } zu erreichen, entfernt, ab { $start }
repair-no-pressure-altitude = Druckhöhe durchweg 0, gilt als nicht aufgezeichnet
repair-pressure-altitude-beyond = { $count ->
    [one] 1 Druckhöhe
   *[other] { $count } Druckhöhen
  }, die kein Ballon erreicht, entfernt, ab { $start }
repair-pressure-altitude-spike = { $count ->
    [one] 1 Druckhöhe
   *[other] { $count } Druckhöhen
  }, nur mit über { $faster } zu erreichen, entfernt, ab { $start }
repair-pressure-altitude-aside = { $count ->
    [one] 1 Druckhöhe, für einen Augenblick neben allen anderen,
   *[other] { $count } Druckhöhen, für einen Augenblick neben allen anderen,
  } entfernt, ab { $start }
repair-pressure-altitude-jump = das Barometer sprang; was es zwischen Sprüngen zeigt, zählt nicht, die Höhen gehen nach dem Empfänger { $whiles }
repair-pressure-altitude-dead = das Barometer folgt der Fahrt nicht; die Höhen gehen durchweg nach dem Empfänger
repair-week-rollover = Datum { $dated }, da der Empfänger seine Wochenzählung von vorn begann; { $added } hinzugezählt
repair-zone-assumed = { $count ->
    [one] 1 Zeit
   *[other] { $count } Zeiten
  } ohne Zeitzone, als Ortszeit gelesen: als UTC läge das Log in keinem Zeitraum der Fahrt
repair-doubled-hour = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } in der Stunde, die die Uhren am Ort zweimal zeigten: was vorher und nachher kommt, sagt, in welcher
repair-doubled-hour-open = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } in der Stunde, die die Uhren am Ort zweimal zeigten; nichts sagt sicher, in welcher
repair-clock-not-set = { $count ->
    [one] 1 Position
   *[other] { $count } Positionen
  } nach der Zeitumstellung, der die Uhr des Loggers nicht gefolgt ist: es gilt ihr Abstand zu UTC von vorher
repair-date-assumed = kein Datum im Log: das der Fahrt genommen, { $day }
repair-headers-differ = angefügte Aufzeichnungen weichen ab ({ $what }); die erste zählt
repair-bad-date = das Datum „{ $record }“ weggelassen
repair-broken-off = unlesbar ab Zeile { $line } ({ $reason }); was davor steht, ist behalten

## Regeln mit Namen
rule-floor-height = Mindesthöhe über Grund
rule-floor-above = Ort, über dem die Mindesthöhe zählt
rule-floor-within = wo die Mindesthöhe gilt
rule-floor-until = bis wann die Mindesthöhe gilt
rule-floor-tolerance = Toleranz der Mindesthöhe
rule-floor-least-time = kürzeste Zeit unter der Mindesthöhe, die zählt
rule-floor-penalty = Strafe für Unterschreiten der Mindesthöhe
rule-contact-within = wo der Boden nicht berührt werden darf
rule-contact-until = bis wann der Boden nicht berührt werden darf
rule-contact-penalty = Strafe für Bodenberührung
rule-launch-least-distance = Mindestabstand des Starts vom Ziel
rule-launch-most-distance = größter Abstand des Starts vom Ziel
rule-launch-area = Startgebiet, das zu benutzen ist
rule-launch-retry = welcher Start zählt, wenn ein Pilot gelandet und wieder gestartet ist
rule-launch-penalty = Strafe für falschen Startplatz
rule-launch-period-penalty = Strafe für Start außerhalb der Startzeit
rule-scoring-penalty = Strafe für eine Marke außerhalb der Wertungszeit
rule-findings-least-probability = wie wahrscheinlich ein Verstoß sein muss, um vorgelegt zu werden
rule-airspace-tolerance = Toleranz gesperrten Luftraums
rule-airspace-penalty = Strafe für Einfahren in gesperrten Luftraum
rule-boundary-within = Grenze, innerhalb derer zu bleiben ist
rule-boundary-penalty = Strafe für Verlassen der Grenze
rule-night-before-sunrise = frühester Start vor Sonnenaufgang
rule-night-after-sunset = späteste Landung nach Sonnenuntergang
rule-night-penalty = Strafe für eine Fahrt bei Nacht
rule-declarations-radius = wie nah ein Ziel an angesagten Koordinaten liegen muss
rule-declarations-several = welches Ziel zählt, wenn mehrere gemeint sind
rule-declarations-least-distance = Mindestabstand eines angesagten Ziels
rule-declarations-late-penalty = Strafe für verspätete Ansage
rule-tracks-dimensions = Dimensionen der Entfernungen am Track (2: in der Ebene, 3: Höhe mitgezählt)
rule-tracks-throw = wie weit ein Marker geworfen werden kann
rule-tracks-log-gap = Lücke eines Logs, von der man wissen muss
rule-points-method = Punkteformel
rule-points-ties = Punkte bei gleichen Ergebnissen
rule-points-parted-by = was gleiche Ergebnisse einer Aufgabe trennt
rule-points-no-result = Punkte für Fahrt ohne Ergebnis
rule-points-by-class = ob jede Klasse für sich gewertet wird, mit Plätzen und Punkten unter sich
rule-points-show-up = Mindestpunkte aller, die gefahren sind
rule-points-places = Punkte jedes Platzes
rule-results-decimals = Nachkommastellen eines Ergebnisses
rule-results-step = Schritt in Fuß und Zoll, in dem Längen gerundet und gereiht werden
rule-results-angle-decimals = Nachkommastellen eines Winkels
rule-results-time-decimals = Nachkommastellen einer Zeit in einem Rennen, in Sekunden
rule-keying-counts = welche von zwei übereinstimmenden Eintragungen zählt
rule-keying-tolerance = Unterschied zweier Eintragungen, der durchgeht
rule-keying-twice = ob jede Marke von zwei Personen einzutragen ist
rule-keying-drop-time = ob zu jeder Marke zu notieren ist, wann der Marker fiel
rule-keying-measurer = ob zu jeder Marke zu notieren ist, wer sie maß
rule-standings-best-of = wie viele der besten Aufgaben zählen
rule-standings-ties = was gleiche Summen trennt
rule-standings-team-size = wie viele der besten Piloten einer Mannschaft zählen
rule-standings-team-column = Spalte der Pilotenliste, die die Mannschaft nennt
rule-standings-by-class = ob jede Klasse ihre eigene Gesamtwertung hat
rule-publication-complaint-time = Zeit für Beschwerden nach amtlichen Ergebnissen
rule-publication-protest-time = Zeit für Proteste nach der Antwort auf eine Beschwerde
book-championship = Meisterschaft nach den Muster-Wettbewerbsregeln
book-festival = Zielwettbewerb eines Ballontreffens
book-gas-race = Weitfahrt der Gasballone

## Regeln, die die Veranstaltung nicht beantwortet hat
rule-unanswered = { $rule }: noch nicht beantwortet. { $means } Auf der Seite Regeln beantworten, oder in der Datei der Veranstaltung (siehe die Liste der Regeln).
unanswered-penalty = Verstöße dagegen warten auf einen Betrag, den ein Offizieller setzt.
unanswered-within = Vorerst gilt es überall.
unanswered-complaint-time = Bis dahin kann nichts amtlich werden.
unanswered-protest-time = Bis dahin kann nichts endgültig werden.
unanswered-ties = Vorerst teilen gleiche Ergebnisse den besseren Platz.
unanswered-other = Vorerst wird es nicht geprüft.
points-penalty-without-points = Eine Strafe in Punkten ändert nichts, da diese Veranstaltung keine Punkte vergibt. Stattdessen Meter auf das Ergebnis oder kein Ergebnis verhängen.
points-penalty-without-points-many = { $pilots } Piloten haben Strafen in Punkten, die nichts ändern, da diese Veranstaltung keine Punkte vergibt. Stattdessen Meter auf das Ergebnis oder kein Ergebnis verhängen.
results-do-not-add-up = Diese Veranstaltung vergibt keine Punkte, und Ergebnisse ungleicher Aufgaben lassen sich nicht zusammenzählen: es gibt keine Gesamtwertung. Auf der Seite Regeln eine Punkteformel wählen.
no-scoring-area = Die Mindesthöhe gilt bis in die Wertungszone, aber die Aufgabe hat keine: es gilt vorerst bis zur Landung, und nichts darunter ist sicher. Der Aufgabe eine Wertungszone geben, oder keine Mindesthöhe.

## Offene Fragen: wie jede Art heißt, und was sie schließt
matter-unsettled = Eintragungen zu entscheiden
matter-no-mark = gefahren, und keine Marke
matter-unruled = Verstoß zu entscheiden
matter-desk-clock = Uhr dieses Rechners
matter-mark-far-from-track = Marke und Log passen nicht zusammen
matter-log-pilot = wessen Log es ist
matter-ruling = fragliche Entscheidung
matter-rules = Regeln zu beantworten
matter-class = Klasse eines Piloten
matter-not-entered = Einträge zu einem Piloten, der nicht teilnimmt
matter-check-in = Anmeldung der Piloten
matter-target-closed = Marke bei geschlossenem Ziel
matter-target-moved = Ziel nach Marken versetzt
matter-target-not-clear = Ziel geöffnet, ehe das Feld frei war
matter-report-contradicted = Meldung gegen das Log
matter-stack-unfit = Marken eines Stapels passen nicht zu den Fahrten
matter-rows-shifted = Zeilen eines Zettels verrutscht
matter-not-noted = zu einer Marke nicht notiert
matter-stack-twice = ein Stapel Zettel in zwei Aufgaben
matter-report = Meldung gegen die Belege
matter-not-flown = Verbleib unbekannt
matter-same-person = ein Pilot unter zwei Nummern
matter-alike-names = Piloten fast gleichen Namens
matter-columns-exchanged = vertauschte Spalten der Pilotenliste
matter-letters-misread = falsch gelesene Buchstaben der Pilotenliste
matter-still-flying = noch unterwegs
matter-planned = etwas liegt vor für eine noch nicht gefahrene Aufgabe
matter-result-lost = kein Ergebnis, weil etwas fehlt
matter-keying = Eintragungen zu einer Aufgabe, die nicht zählt
matter-ruling-replaced = neu getroffene Entscheidung
matter-declaration = angesagtes Ziel
matter-impossible = Zeiten, die nicht sein können
matter-tie = Gleichstand bleibt
matter-task = Aufgabe
matter-no-log = kein Log
matter-retry = zweiter Start
matter-log-gap = Lücke in einem Log
matter-log-heights = Höhen eines Logs, die nicht stimmen können
matter-log-clock = Uhr eines Logs
matter-log-clock-wrong = Uhr eines Logs geht falsch
matter-log-clock-alone = Uhr eines Logs geht vielleicht falsch
matter-log-by-hand = Log, einem Piloten von Hand zugeordnet
matter-log-broken = Log, das sich nicht lesen lässt
matter-log-repaired = berichtigtes Log
matter-log-left-out = Log mit mehr als der Fahrt
matter-log-unmatched = Log von niemandem
matter-log-duplicate = mehrere Logs eines Piloten
matter-reference = Bezugssystem
matter-height-unknown = Höhe nicht bekannt
matter-terrain = Höhen des Bodens
matter-acceptance-gone = Annahme, deren Frage es nicht mehr gibt
matter-set-aside = beiseitegelegte Eintragung
matter-conflict = Arbeitsplätze widersprechen sich
matter-rule-kept = Regel, die eine amtliche Aufgabe behält
matter-old-number = unter einer alten Nummer eingetragen
matter-other-person = eine andere Person unter einer Nummer
matter-lost-flight = Eintragungen ohne Fahrt
matter-fork = ein Arbeitsplatz in zwei Kopien
matter-clock = Uhr eines Arbeitsplatzes
matter-complaint = Beschwerde oder Protest
matter-protest-period = Zeit für Proteste

thing-event-settings = die Einstellungen der Veranstaltung
thing-pilot = Pilot { $name }
thing-place = Ort { $name }
thing-flight = Fahrt { $name }
thing-log-pilot = der Pilot des Logs { $name }
thing-log = Log { $name }
thing-publication = Ergebnisse, { $stage }, Fassung { $version }
thing-row = { $what } von Pilot { $of_pilot } in Aufgabe { $of_task }
thing-mark = die Eintragung
thing-settle = die entschiedene Marke
thing-declaration = die Ansage
thing-report = die Meldung
thing-target = das Zielbuch
thing-task-sheet = ein Aufgabenblatt
thing-target-line = eine Zeile des Zielbuchs { $name }
thing-ruling = die Entscheidung
thing-decision = die Entscheidung zu { $on } von Pilot { $of_pilot }
thing-terrain = das Gelände
thing-schema = die Veranstaltung
thing-withdraw = eine Rücknahme
thing-undo = eine Berichtigung
thing-complaint = eine Beschwerde
thing-complaint-outcome = die Antwort auf eine Beschwerde
thing-note = eine Bemerkung
thing-reopen = das erneute Öffnen einer Aufgabe
thing-air-renewed = die Luft einer Fahrt, neu bestimmt
thing-air-set = die Luft einer Fahrt, wie ihr Ordner sie hat
thing-acceptance = die Annahme einer offenen Frage
act-schema = Veranstaltung angelegt
act-event-settings = Einstellungen und Regeln
act-pilot = Pilot
act-place = Ort
act-flight = Fahrt und ihre Aufgaben
act-mark = Marke eingetragen
act-settle = Eintragungen verglichen
act-declaration = Angesagtes Ziel
act-report = Meldung eines Beobachters
act-ruling = Entscheidung
act-log-added = Log hinzugefügt
act-log-assigned = Log einem Piloten zugeordnet
act-terrain = Höhen des Bodens
act-withdraw = Eintragung zurückgezogen
act-undo = Eintragung rückgängig gemacht
act-publication = Veröffentlicht
act-complaint = Beschwerde oder Protest
act-complaint-outcome = Beschwerde beantwortet
act-note = Bemerkung
act-acceptance = Offene Frage angenommen
act-reopen = Aufgabe wieder geöffnet
act-task-sheet = Aufgabenblatt ausgegeben
act-air-renewed = Luft einer Fahrt neu bestimmt
act-air-set = Luft einer Fahrt aus ihrem Ordner übernommen
act-target = Was mit einem Ziel geschah
act-unknown = { $kind }
journal-pilot = { $cells }
journal-place = { $name } ({ $kind })
journal-flight = Fahrt { $flight } mit { $tasks ->
    [one] 1 Aufgabe
   *[other] { $tasks } Aufgaben
  }
journal-row = { $cells }
journal-cell = { $name } { $text }
journal-log = { $log }, Fahrt { $flight }
journal-log-of-nobody = { $log }, niemandem
journal-log-assigned = { $log }, Pilot { $pilot }
journal-terrain = { $name }
journal-of-entry = Eintragung { $entry }
journal-published-event = { $what }, ganze Veranstaltung
journal-published-tasks = { $what }, Aufgabe { $tasks }
journal-complaint = { $level }, Pilot { $pilot }: { $text }
journal-answer = { $verdict }: { $entry }
journal-complaint-of = { $level } von { $pilot }
journal-answers = die Antwort auf „{ $questions }“
journal-note = { $text }
journal-acceptance = { $matter }: { $cells }
journal-replaced = ersetzt durch { $entry }
journal-reverted = rückgängig durch { $entry }
journal-withdrawn = zurückgezogen durch { $entry }
journal-hidden = Aufgabe { $task }, Pilot { $pilot }: verdeckt, bis zweimal eingetragen
term-cell-distance2 = zweite Entfernung
term-cell-from2 = zweiter Punkt
term-cell-lat = Breite
term-cell-lon = Länge
term-cell-measurer = gemessen von
term-cell-settles = entschieden, weil
term-cell-finding = Verstoß
term-cell-kind = sah
term-cell-number = Nr.
term-cell-class = Klasse
term-unit-task-points = Aufgabenpunkte
term-unit-event-points = Wettbewerbspunkte
term-unit-metres = Meter auf das Ergebnis
term-unit-no-result = kein Ergebnis
term-unit-disqualified = disqualifiziert
term-outcome-upheld = stattgegeben
term-outcome-rejected = abgelehnt
term-outcome-taken-back = zurückgenommen
entry-by = { $entry } von { $who }
desks-clash = { $what } (Eintragungen { $entries }). Entscheiden, was gilt, und es noch einmal eintragen.
rule-kept = Aufgabe { $task } ist amtlich und behält { $rule }: { $kept }. Die Veranstaltung sagt seitdem { $now }. Die Aufgabe wieder öffnen, um sie danach zu werten (sandtail correct reopen).
old-number = Eintragung { $entry } von { $who } nennt die Nummer { $old }, die jetzt { $new } ist. Sie zählt für { $new }.
other-person = Ein Einlesen setzte { $now } an die Nummer { $number }, wo { $before } stand. Alles unter { $number } Eingetragene zählt für { $now }. Die Pilotenliste berichtigen, oder so annehmen.
clash-withdrawn = { $what }: an einem Arbeitsplatz zurückgezogen, an einem anderen geändert
clash-corrected = { $what }: verschieden berichtigt
clash-changed = { $what }: verschieden geändert
clash-fields = { $what }: verschieden geändert ({ $fields })
clash-set-down = { $what }: { $times }-mal angelegt
flight-lost = { $entries ->
    [one] 1 Eintragung gehört
   *[other] { $entries } Eintragungen gehören
  } zu Fahrt { $flight }, die nicht angelegt ist oder zurückgezogen wurde. Das Zurückziehen rückgängig machen, oder auch sie zurückziehen.
set-aside = Eintragung { $entry } von { $who } ist beiseitegelegt und zählt nichts: { $field }: gefunden: { $found }; erlaubt: { $allowed }. Sie bleibt erhalten. Wenn nötig, noch einmal eintragen, was gemeint war, dann sie zurückziehen.
desks-disagree = Arbeitsplätze widersprechen sich: { $on }
marks-differ = Zwei Eintragungen für Pilot { $pilot } in Aufgabe { $task } weichen ab. Eine davon wählen.
nothing-new = Nichts Neues.
entries-came = { $entries ->
    [one] 1 neue Eintragung
   *[other] { $entries } neue Eintragungen
  } aus { $source }.
chains-forked = { $chains ->
    [one] 1 Arbeitsplatz lief in zwei Kopien der Veranstaltung weiter. Beide bleiben erhalten.
   *[other] { $chains } Arbeitsplätze liefen in zwei Kopien der Veranstaltung weiter. Alle bleiben erhalten.
  }
left-behind = Der Ordner enthält, was eingetragen war, wie es jetzt steht. Nicht darin: { $publications ->
    [one] 1 Veröffentlichung
   *[other] { $publications } Veröffentlichungen
  } (und welcher davon eine Beschwerde gilt oder welcher Eintragung eine Bemerkung), wer wann was eintrug ({ $entries ->
    [one] 1 Eintragung
   *[other] { $entries } Eintragungen
  }), und { $old ->
    [one] 1 Eintragung, die
   *[other] { $old } Eintragungen, die
  } ersetzt, zurückgezogen oder rückgängig gemacht wurden oder dies taten. „sandtail archive“ behält sie.
audit-counted = { $where }: { $entries ->
    [one] 1 Eintragung
   *[other] { $entries } Eintragungen
  } von { $desks ->
    [one] 1 Arbeitsplatz
   *[other] { $desks } Arbeitsplätzen
  }, { $files ->
    [one] 1 Datei
   *[other] { $files } Dateien
  }, { $publications ->
    [0] nichts veröffentlicht
    [one] 1 Veröffentlichung
   *[other] { $publications } Veröffentlichungen
  }{ $publications ->
    [0] .
   *[other] , davon { $again } mit denselben Bytes nachgerechnet.
  }
audit-sound = Nichts wurde an dem verändert, was hier ist.
audit-sound-against = Nichts wurde an dem verändert, was hier ist, und es enthält alles, was { $against } nennt.
audit-cannot-know = Von sich aus kann es nicht zeigen, ob am Ende Eintragungen abgeschnitten wurden oder alles neu geschrieben wurde. Es gegen das halten, was öffentlich aushängt oder anderswo liegt: sandtail verify mit --against und dem, was ein Blatt unter „Eintragungen und Ergebnisse“ sagt, einer anderen Kopie oder veröffentlichten Dateien.
audit-head = Alle Eintragungen, wie sie jetzt sind: { $head }
audit-not-sound = Diese Veranstaltung ist NICHT unversehrt: siehe oben.
published-same = { $where }: { $files ->
    [one] 1 Datei ist
   *[other] { $files } Dateien sind
  } Byte für Byte, was in den Aushang ging.
recount-follows = { $where }: jeder Platz, jeder Punkt, jede Strafe und jede Summe folgt aus den anderen.
database-away = Stand { $moment }. Die Datenbank antwortet nicht; was jetzt eingegeben wird, wartet auf diesem Rechner und wird gesendet, sobald sie antwortet.
copy-differs = { $where } geht nicht von dem aus weiter, was dieser Rechner daraus gelesen hatte ({ $entries ->
    [one] 1 Eintrag
   *[other] { $entries } Einträge
  }): die Datenbank wurde aus einem älteren Stand wiederhergestellt oder neu geschrieben. Gezeigt wird, was sie jetzt enthält. Was dieser Rechner gelesen hatte, bleibt als Veranstaltungsdatei { $file } erhalten: sehen Sie hinein (sandtail log); der Besitzer der Datenbank bringt zurück, was ihr fehlt (sandtail merge).
on-network = { $file } liegt auf einem Netzlaufwerk. Solche Laufwerke sperren Dateien nicht verlässlich, darum wechseln sich Arbeitsplätze dort mit einer kleinen Datei daneben ab; das ist langsam, und Programme älterer Fassungen halten sich nicht daran: mit solchen nie an zwei Arbeitsplätzen zugleich öffnen. Besser jedem Arbeitsplatz eine Kopie geben (sandtail copy) oder die Veranstaltung in einer Datenbank halten.
recount-cannot-know = Von sich aus kann diese Datei nicht zeigen, ob noch so dasteht, was nur einmal in ihr steht: Namen, Bemerkungen und Zeiten von Eintragungen, und welches Log wem gehört. Sie gegen das halten, was ein Blatt unter „Eintragungen und Ergebnisse“ sagt (--against), oder gegen die Veranstaltung (--with).
recount-differs = { $where }: { $numbers ->
    [one] 1 Zahl folgt
   *[other] { $numbers } Zahlen folgen
  } nicht aus den anderen.
desk-forked = Arbeitsplatz { $desk } lief ab Eintragung { $entry } in zwei Kopien der Veranstaltung weiter. Nichts ist verloren; ansehen, was jede Kopie eintrug.
clock-back = Die Uhr des Arbeitsplatzes { $desk } wurde vor Eintragung { $entry } um { $back } zurückgestellt. Was eingetragen ist, gilt; Zeiten seiner Eintragungen können falsch sein.
term-complaint = Beschwerde
term-protest = Protest
complaints-counted = { $every ->
    [one] 1 Beschwerde oder Protest
   *[other] { $every } Beschwerden und Proteste
  }, { $open } offen.
complaint-open = Offen: { $level } von Pilot { $pilot } (Eintragung { $entry }). Darüber entscheiden.
protest-time-open = Beantwortet: { $level } von Pilot { $pilot } (Eintragung { $entry }). Die Regeln lassen offen, wie lange man protestieren darf. Diese Regel beantworten.
protest-time-runs = Die Zeit für Proteste läuft bis { $until }: { $level } von Pilot { $pilot } (Eintragung { $entry }). Abwarten.

matter-placed = { $where }: { $text }
where-flight = Fahrt { $flight }
where-task = Aufgabe { $task }
where-pilot = { $pilot }
where-pilots = { $pilots }
where-many = { $pilots } Piloten
where-mark = Marke { $mark }
told-and-accepted = { $text } ({ $accepted })

refused-yet = Diese Ergebnisse können noch nicht so veröffentlicht werden: { $stage }.
refused-no-task = Die Ergebnisse enthalten keine Aufgabe { $tasks }. Sie zuerst werten.
refused-final-task = Endgültige Ergebnisse der Aufgabe { $tasks } würden wieder geöffnet. Sagen, warum.
refused-final-up = Endgültige Ergebnisse hängen aus. Sagen, warum sie wieder geöffnet werden.
refused-overtaken = Inzwischen hat jemand anders Version { $version } veröffentlicht, und diese Blätter tragen dieselbe Nummer. Noch einmal veröffentlichen.
refused-no-official = Keine amtlichen Ergebnisse hängen aus. Sie zuerst veröffentlichen.
refused-clock = { $clock } Fristen wären falsch. Die Uhr stellen, oder jemand sieht sie an und gibt beim Veröffentlichen seinen Namen (in der Befehlszeile --clock-confirmed-by).
clock-behind = Die Uhr dieses Rechners geht { $off } nach, verglichen mit: { $other }.
clock-ahead = Die Uhr dieses Rechners geht { $off } vor, verglichen mit: { $other }.
term-server-clock = Uhr des Datenbankservers
term-an-entry = eine Eintragung
filed-late = Die Zeit für Beschwerden endete um { $until }.
filed-on-protest = Er betrifft einen Protest, keine Beschwerde.
filed-on-open = Die Beschwerde, um die es geht, ist noch nicht beantwortet.
protested-late = Die Zeit für Proteste endete um { $until }.
answered-anew = An Stelle von: { $verdict } durch { $by }: { $why }
heard-or-not = { $late } Das ist eingetragen; ob es angehört wird, entscheiden Offizielle.
refused-complaint-time = Die Zeit für Beschwerden läuft bis { $until }. Abwarten.
refused-changed = { $scores ->
    [one] 1 Wertung weicht
   *[other] { $scores } Wertungen weichen
  } von der amtlichen Fassung { $version } ab (zuerst: { $first }). Sie noch einmal als amtlich veröffentlichen, damit die Piloten sie sehen.
refused-planned = Noch nicht gefahren: Aufgabe { $tasks }. Nur was gefahren wurde, kann amtlich werden.
refused-nothing-flown = Noch keine Aufgabe ist gefahren. Nur was gefahren wurde, kann amtlich werden.
holds-private = Sie enthält, was nicht für alle bestimmt ist: { $what }. Niemandem geben, der es nicht sehen darf.
private-columns = die Spalten { $columns } der Pilotenliste
private-remarks = was Offizielle neben Eintragungen und Meldungen schrieben
folder-adds = neu: { $what }
folder-changes = geändert: { $what }
folder-renumbers = { $now } hat jetzt die Nummer { $new }, nicht { $old }: alles unter { $old } Eingetragene geht mit
folder-other-person = Nummer { $number } ist eine andere Person: aus { $before } wird { $now }, mit allem darunter Eingetragenen
folder-lacks = nicht mehr im Ordner und belassen, wie es ist: { $what } (Eintragung { $entry })
as-meant-nothing = Dieser Punkt schlägt nichts vor, das sich übernehmen ließe. Die Eintragungen mit dem Zettel vergleichen.
as-meant-taken = Dort, wohin diese Marke gehört, steht eine andere. Diese zuerst entscheiden.
correct-gone = Eintragung { $name } gilt nicht mehr. Im Journal nachsehen.
correct-no-task = Es gibt keine Aufgabe { $name }.
correct-no-pilot = Es gibt keinen Piloten { $name }.
correct-no-flight = Es gibt keine Fahrt { $name }.
correct-no-log = Es gibt in der Veranstaltung kein Log { $name }. So nennen, wie `sandtail open-matters --all` und die Zettel der Piloten es tun; ein neues Log kommt mit seinem Ordner (import --into) oder auf der Seite Flight logs.
correct-log-twice = Mehrere Fahrten haben ein Log { $name }. Mit --flight sagen, welches gemeint ist.
correct-no-point = Es gibt in der Veranstaltung keinen Punkt { $name }.
correct-no-setting = Die Veranstaltung hat keine Einstellung { $name }. `sandtail manual files` zählt die von [event] auf; die Geländedatei kommt mit einem Ordner.
correct-no-prize = Es gibt keinen Preis { $name }.
beside-withdrawal = Eintragung { $entry } zieht zurück, was dies ändert, und ist beiseitegelegt, weil andere darauf beruhen. Erst Eintragung { $entry } zurückziehen, dann dies noch einmal: noch ist nichts aufgezeichnet.
withdraw-unfit = Eintragung { $entry }, { $what }, kann nicht zurückgezogen werden, weil andere darauf beruhen. Stattdessen eintragen, was an ihrer Stelle gelten soll.
correct-number-taken = Die Nummer { $name } hat ein anderer Pilot. Zuerst diesen zurückziehen oder ihm eine andere Nummer geben.
correct-no-clash = Kein Arbeitsplatz widerspricht der Eintragung { $name }.
title-side-by-side = Gesamtwertung, wie sie ist und wie sie wäre
head-rank-then = Platz dann
head-total-then = Summe dann
opens = zu prüfen: { $what }
is-closed = erledigt: { $what }
is-moved = { $place } wird um { $away } versetzt, Richtung { $bearing }
changes-nothing = Dies ändert kein Ergebnis, keinen Platz und keine Punkte.
only-tried = Nichts wurde eingetragen.
still-missing = Verbleib danach unbekannt, Aufgabe { $task }: { $pilots }
entries-for = Eintragungen für { $pilots }
recorded = { $entries ->
    [one] 1 Eintragung aufgenommen
   *[other] { $entries } Eintragungen aufgenommen
  }
refused-stale = { $entries ->
    [one] 1 Eintragung kam
   *[other] { $entries } Eintragungen kamen
  } hinzu, nachdem diese Ergebnisse gerechnet waren (zuerst: { $first }). Neu werten.
change = { $pilot }, { $what } ({ $reasons })
change-of = { $where }: { $numbers }
paper-of-another-version = Das Blatt wurde mit { $program } gemacht; jetzt gerechnet, ändern sich seine Zahlen:
in-standings = Gesamtwertung
same-numbers = dieselben Zahlen
term-nothing-before = keine
changed-group = { $before } → { $after }
changed-result = Ergebnis { $before } → { $after }
changed-measured = gemessen { $before } → { $after }
changed-number = Nummer { $before } → { $after }
changed-rank = Platz { $before } → { $after }
changed-score = Wertung { $before } → { $after }
changed-total = Summe { $before } → { $after }
changed-task-penalty = Strafe in Aufgabenpunkten { $before } → { $after }
changed-event-penalty = Strafe in Wettbewerbspunkten { $before } → { $after }
changed-state = Stand der Aufgabe { $before } → { $after }
changed-kind = Art der Aufgabe { $before } → { $after }
changed-P = gemeldete Piloten { $before } → { $after }
changed-A = Piloten mit Ergebnis { $before } → { $after }
changed-M = mittlerer Platz { $before } → { $after }
changed-W = bestes Ergebnis { $before } → { $after }
changed-RM = Ergebnis am mittleren Platz { $before } → { $after }
changed-SM = Punkte des mittleren Platzes { $before } → { $after }
pilot-entered-since = gemeldet seit der letzten Fassung
pilot-no-longer-entered = nicht mehr gemeldet
mark-settled-since = die Marke ist jetzt entschieden
mark-open-since = die Marke ist wieder offen
entry-gone = zählt nicht mehr: { $entry }
entry-come = eingetragen: { $entry }
penalty-told = { $amount } { $cause }, { $ruling }
penalty-plain = { $amount } { $cause }
penalty-gone = Strafe entfallen: { $penalty }
penalty-come = Strafe hinzugekommen: { $penalty }
penalty-became = Strafe: aus { $before } wurde { $after }
task-new = von der Aufgabe hingen keine Ergebnisse aus
stage-back = Aufgabe { $task } wird zurückgestuft: { $stage }, Version { $version } → { $now }
stage-gone = Aufgabe { $task } wird abgehängt: { $stage }, Version { $version } → nichts
task-gone = Aufgabe nicht mehr vorhanden
others-changed = Ergebnisse anderer Piloten änderten sich
others-changed-so = Ergebnisse anderer Piloten änderten sich: { $values }
totals-changed = Summen anderer Piloten änderten sich
see-tasks = siehe Aufgabe { $tasks }
entry-made = { $what } von { $who }
entry-made-because = { $what } von { $who } { $why }
entry-first = { $kind } von { $who }, Eintragung { $entry }

closes-pilots = Seite { $page }; im Ordner: pilots.csv
closes-places = Seite { $page }; im Ordner: places.geojson und event.toml
closes-tasks = Seite { $page }; im Ordner: flight.toml der Fahrt
closes-rules = Seite { $page }; im Ordner: die Regeln in event.toml
closes-no-elevation = Seite { $page }, „The event…“; im Ordner: ground_elevation in event.toml, oder terrain.tif
closes-marks = Seite { $page }; im Ordner: marks.csv der Fahrt
closes-compare = Seite { $page }; im Ordner: eine Zeile in marks.csv der Fahrt, die sagt, warum sie über die Marke entscheidet
closes-reports = Seite { $page }; im Ordner: reports.csv der Fahrt
closes-log-clock-alone = annehmen, um die Zeiten des Logs zu verschieben; sonst wartet nichts darauf
closes-logs = Seite { $page }; im Ordner: die Logs der Fahrt, daneben assigned.csv
closes-infringements = Seite { $page }; im Ordner: eine Zeile in rulings.csv der Fahrt
closes-publish = Seite { $page }
closes-complaints = Seite { $page }; im Terminal: sandtail complaint EVENT decide
closes-journal = Seite { $page }
closes-target-moved = Seite { $page } für neu Gemessenes, Orte, wenn das Ziel selbst falsch steht; im Ordner: marks.csv der Fahrt, places.geojson
closes-declaration = Seite { $page }; im Ordner: declarations.csv der Fahrt
closes-mark-far-from-track = Seite { $page }, mit Nummer, Marke und Log nebeneinander; berichtigt auf Marken eintragen und Logs; im Ordner: marks.csv, und assigned.csv neben den Logs
closes-no-mark = Seite { $page }, die Marke oder dass keine gefunden wurde; im Ordner: marks.csv der Fahrt
closes-unsettled = Seite { $page }; im Ordner: marks.csv der Fahrt, eine Zeile, die unter settles sagt, warum sie gilt
closes-keyed-once-only = Seite { $page }, durch jemand anderen; im Ordner: eine zweite Zeile in marks.csv der Fahrt
closes-ruling-at-journal = Seite { $page }, wo die Entscheidung zurückgenommen wird; im Ordner: rulings.csv der Fahrt
closes-set-aside = Seite { $page }, wo der Eintrag zurückgezogen wird
closes-flight-lost = Seite { $page }, wo das Zurückziehen der Fahrt rückgängig gemacht wird, oder ihre Einträge zurückgezogen werden
closes-conflict = Seite { $page }, wo einer der Einträge gewählt wird
closes-acceptance-gone = Seite { $page }, wo die Annahme zurückgezogen werden kann; im Ordner: ihre Zeile in accepted.csv
closes-times-by-log = Seite { $page }, wenn das Log von einer anderen Fahrt oder einem anderen Piloten ist oder seine Uhr falsch geht; Marken eintragen, wenn eine eingetragene Zeit falsch ist; im Ordner: die Logs der Fahrt, daneben assigned.csv, oder marks.csv
closes-mark-of-not-flown = Meldung oder Marke zurücknehmen: Seite { $page } oder Marken eintragen; im Ordner: eine Zeile weniger in reports.csv oder marks.csv der Fahrt
closes-not-flown = Seite { $page } für das Fehlende, Meldungen, wenn ein Pilot nicht gefahren ist; im Ordner: marks.csv oder reports.csv der Fahrt
closes-log-clock-wrong = annehmen, um die Zeiten des Logs zu verschieben; sonst die notierten Zeiten der Marken berichtigen
command-rules = sandtail correct { $event } rule { $rule } ANTWORT --why GRUND
command-no-elevation = sandtail correct { $event } setting ground_elevation METER_ODER_FUSS --why GRUND
command-pilots = sandtail correct { $event } row pilots number={ $pilot } SPALTE=TEXT --why GRUND
command-places = sandtail correct { $event } move ORT --lat-lon LAT LON --why GRUND
command-tasks = sandtail correct { $event } task { $task } flown|planned|cancelled --why GRUND
command-marks = sandtail correct { $event } row marks task={ $task } pilot={ $pilot } method=tape distance=… --why GRUND
command-log-pilot = sandtail correct { $event } log { $log } { $pilot } --flight { $flight } --why GRUND
command-log-unmatched = sandtail correct { $event } log { $log } { $pilot } --flight { $flight } --why GRUND
command-compare = sandtail correct { $event } row marks task={ $task } pilot={ $pilot } method=tape distance=… settles=GRUND --why GRUND
command-reports = sandtail correct { $event } row reports task={ $task } pilot={ $pilot } kind=… --why GRUND
command-infringements = sandtail correct { $event } row rulings task={ $task } pilot={ $pilot } finding={ $finding } decision=apply|waive reason=GRUND --why GRUND
command-mark-of-not-flown = sandtail withdraw { $event } { $entry } --why GRUND
command-not-flown = sandtail correct { $event } not-flown --task { $task } --why GRUND (wer nicht flog), oder row marks …
command-conflict = sandtail correct { $event } holds { $entry } --why GRUND
command-target-moved = sandtail correct { $event } row marks task={ $task } pilot={ $pilot } SPALTE=TEXT --instead { $entry } --why GRUND
command-ruling-at-journal = sandtail withdraw { $event } { $entry } --why GRUND
command-flight-lost = sandtail withdraw { $event } { $entry } --why GRUND
command-set-aside = sandtail withdraw { $event } { $entry } --why GRUND
command-acceptance-gone = sandtail withdraw { $event } { $entry } --why GRUND
command-declaration = sandtail correct { $event } row declarations task={ $task } pilot={ $pilot } SPALTE=TEXT --why GRUND
command-complaints = sandtail complaint { $event } decide N upheld|rejected --why GRUND
closes-or-accept = { $how }. Oder mit einem Grund annehmen, wie es ist.
closes-or-acknowledge = { $how }. Oder mit Namen und einem Grund zur Kenntnis nehmen.
closes-safety = Seite { $page }, Orte oder Regeln; im Ordner: flight.toml der Fahrt, event.toml oder places.geojson
closes-only = { $how }.
hidden-until-entered-twice = verdeckt, bis zweimal eingetragen.
blocks-official = hält Ergebnisse davon ab, amtlich zu werden
accepted-ones = angenommen, wie sie sind
blocks-final = hält Ergebnisse davon ab, endgültig zu werden
blocks-nothing = gut zu wissen
decides-scoring = ein Offizieller der Wertung
decides-director = die Wettbewerbsleitung
decides-jury = wer Beschwerden anhört
accepted-as-it-is = angenommen { $parts }
acknowledged = zur Kenntnis genommen { $parts }
acceptance-gone = { $what }: { $accepted }. Dergleichen ist dort nicht mehr offen: worum es ging, wurde seitdem entschieden, berichtigt oder zurückgezogen. Die Annahme zählt nichts und hält nichts auf.
acceptance-lapsed = { $what }: { $accepted }. Aber was angenommen wurde, hat sich seitdem geändert; es ist wieder offen, und jemand muss neu entscheiden. Jetzt heißt es: { $now }
acceptance-followed = { $lapsed } Seit der Annahme dazu eingetragen: { $entries }.
more-worth-knowing = { $matters ->
    [one] 1 weitere Sache ist gut zu wissen
   *[other] { $matters } weitere Sachen sind gut zu wissen
  } (--all nennt sie).
not-ready-official = Noch nicht so weit, amtlich zu werden: { $matters ->
    [one] 1 Frage ist offen.
   *[other] { $matters } Fragen sind offen.
  }
ready-official = Nichts hält diese davon ab, amtlich zu werden.

## Eintragungen von Marken
term-somebody = jemand
term-method-tape = Entfernung
term-method-polar = Entfernung und Peilung
term-method-arcs = zwei Entfernungen
term-method-offset = Entfernungen auf einer Linie und quer dazu
term-method-grid = Koordinaten
term-method-latlon = Breite und Länge
term-method-log = aus dem Log
term-method-none = keine Marke gefunden
entry-tape = { $distance } von { $by }
entry-tape-from = { $distance } ab { $start } von { $by }
entry-bearing = { $distance } in Richtung { $bearing } ab { $start } von { $by }
entry-arcs = { $distance } ab { $start } und { $other } ab { $end } ({ $side } der Linie zwischen beiden) von { $by }
entry-offset = { $distance } auf der Linie von { $start } nach { $end }, { $other } quer dazu ({ $side }) von { $by }
entry-coordinates = { $at } von { $by }
entry-log = aus dem Log um { $at } von { $by }
entry-timed = { $entry }, abgeworfen um { $at }
entry-none = keine Marke gefunden von { $by }
term-the-target = dem Ziel
term-either = auf einer von beiden Seiten
entry-as-entered = { $method } { $text } von { $by }

entries-differ = Zwei Eintragungen liegen { $gap } auseinander: { $entries }. Eine davon wählen; { $tolerance } sind erlaubt.
entries-differ-in-time = Zwei Eintragungen geben der Marke verschiedene Zeiten: { $entries }. Eine davon wählen.
entries-not-comparable = Zwei Eintragungen messen Verschiedenes: { $entries }. Eine davon wählen.
no-mark-and-distance = Eine Marke steht neben „keine Marke gefunden“: { $entries }. Eines davon wählen.
entry-contradicts-settled = Gegen das Entschiedene eingetragen, { $how }: { $entries }. Vorerst zählt { $settled }. Neu entscheiden.
apart-by = { $gap } auseinander
not-the-same = nicht dieselbe Messung
settled-in-two-ways = Auf zwei Arten entschieden: { $entries }. Eine davon wählen.
drop-time-not-noted = Wann der Marker fiel, ist nicht notiert, und die Regeln verlangen es. Die Marke zählt vorerst. Die Zeit eintragen, oder hinnehmen, dass niemand sie notierte.
measurer-not-noted = Wer die Marke maß, ist nicht notiert, und die Regeln verlangen es. Die Marke zählt vorerst. Eintragen, wer maß, oder hinnehmen, dass niemand es notierte.
keyed-once-only = Nur von einer Person eingetragen: { $entries }. Jemand anders muss es noch einmal eintragen.
survey-open = Die Messungen von { $by } passen nicht zusammen. { $why }
cannot-be-reduced = { $entries } ergibt keine Marke: { $why }. Die Eintragung berichtigen.
mark-of-not-flown = Von { $by } als nicht gefahren gemeldet, aber eine Marke ist eingetragen: { $entries }. Vorerst zählt „nicht gefahren“. Die Meldung oder die Marke zurückziehen.
mark-missing = Gefahren, aber keine Marke eingetragen: vorerst kein Ergebnis. Die Marke eintragen, oder dass keine gefunden wurde.
mark-missing-many = { $pilots } Piloten: keine Marke ist eingetragen, obwohl sie fuhren, vorerst keine Ergebnisse. Die Marken eintragen, oder dass keine gefunden wurde.

step-of-mark = Marke { $mark }: { $step }
step-entered = nur von einer Person eingetragen: { $entry }
step-entries-agree = { $entries } Eintragungen stimmen überein; es zählt: { $entry }
step-entries-settled = entschieden: { $entry }, weil: { $reason }
step-entries-adjusted = { $measurements } Messungen von { $by } zusammen ausgeglichen, von { $entered } eingetragenen
step-entries-open = offen: { $why } Die Marke bis dahin: { $entry }

## Wie zwei Eintragungen einer Marke nebeneinander aussehen
slip-same-digits = Dieselben Ziffern mit anderem Punkt oder anderer Einheit: { $one } und { $other }.
slip-swapped = Zwei Ziffern vertauscht ({ $first } und { $second }): { $one } und { $other }.
slip-left-out = Eine Ziffer ausgelassen oder doppelt: { $one } und { $other }.
slip-one-digit = Eine Ziffer weicht ab: { $one } und { $other }.
slip-same-number = Dieselbe Zahl in { $unit } und in { $other_unit }: { $number }.
slip-feet-metres = Fuß gegen Meter: { $one } und { $other }.
slip-centimetres-metres = Zentimeter gegen Meter: { $one } und { $other }.
slip-inches-feet = Zoll gegen Fuß: { $one } und { $other }.
slip-decimal-point = Das Komma um eine Stelle verrutscht: { $one } und { $other }.
slip-feet-inches = Fuß und Zoll gegen Dezimalfuß ({ $text } kann { $feet } ft { $inches } in heißen): { $one } und { $other }.

## Arten von Aufgaben
task-kind-pdg = Pilot declared goal
task-kind-pdg-about = Abstand der Marke vom nächsten gültigen Ziel, das der Pilot angesagt hat
task-kind-jdg = Judge declared goal
task-kind-jdg-about = Abstand der Marke vom gesetzten Ziel
task-kind-hwz = Hesitation waltz
task-kind-hwz-about = Abstand der Marke vom nächsten von mehreren Zielen
task-kind-fin = Fly in
task-kind-fin-about = Abstand der Marke vom Ziel, oder vom nächsten von mehreren
task-kind-fon = Fly on
task-kind-fon-about = Abstand der Marke vom nächsten gültigen Ziel, das während der Fahrt angesagt wurde
task-kind-hnh = Hare and hounds
task-kind-hnh-about = Abstand der Marke vom Ziel des Hasen
task-kind-wsd = Watership down
task-kind-wsd-about = Abstand der Marke vom Ziel des Hasen, nach Anfahrt dorthin, wo der Hase startet
task-kind-gbm = Gordon Bennett memorial
task-kind-gbm-about = Abstand einer Marke in einer Wertungszone vom Ziel
task-kind-crt = Calculated rate of approach
task-kind-crt-about = Abstand vom Ziel einer Marke, die in einer Wertungszone fiel, als diese gültig war
task-kind-rta = Race to an area
task-kind-rta-about = Zeit vom Beginn bis zur Wertungszone
task-kind-elb = Elbow
task-kind-elb-about = wie weit die Fahrt bei B abbog: 180° weniger der Winkel ABC
task-kind-lrn = Land run
task-kind-lrn-about = Fläche des Dreiecks ABC
task-kind-mdt = Minimum distance
task-kind-mdt-about = Abstand vom Bezugspunkt zu einer Marke, nach einer Mindestzeit oder einem Mindestweg
task-kind-sfl = Shortest flight
task-kind-sfl-about = Abstand vom Bezugspunkt zu einer Marke in einer Wertungszone
task-kind-mdd = Minimum distance double drop
task-kind-mdd-about = Abstand der Marken A und B in verschiedenen Gebieten
task-kind-xdt = Maximum distance time
task-kind-xdt-about = Abstand vom Bezugspunkt zu einer Marke innerhalb einer Höchstzeit
task-kind-xdi = Maximum distance
task-kind-xdi-about = Abstand vom Bezugspunkt zu einer Marke in einer Wertungszone
task-kind-xdd = Maximum distance double drop
task-kind-xdd-about = Abstand der Marken A und B
task-kind-ang = Angle
task-kind-ang-about = Winkel zwischen der vorgegebenen Richtung und der Linie von A nach B
task-kind-gas = Weitfahrt
task-kind-gas-about = Entfernung vom Start zur Landung auf der Erdoberfläche, gleich auf welchem Weg und in welcher Zeit
task-kind-3dt = 3D shape
task-kind-3dt-about = im Luftraum der Aufgabe gefahrener Weg, nach dem Log

## Arten von Orten
place-kind-target = Ziel
place-kind-target-about = wohin Marken fallen sollen; Aufgaben nennen es
place-kind-goal = Zielpunkt
place-kind-goal-about = ein Punkt, den Piloten ansagen dürfen oder der ihnen als Ziel gesetzt wird
place-kind-reference = Bezugspunkt
place-kind-reference-about = ein Punkt, von dem Marken gemessen werden oder eine Aufgabe zählt
place-kind-task-area = Aufgabengebiet
place-kind-task-area-about = Gebiet, das auf Karten gezeigt wird; Regeln nennen es, wo sie es brauchen
place-kind-boundary = Grenze
place-kind-boundary-about = Gebiet, in dem zu bleiben ist oder in dem die Mindesthöhe gilt: Regeln nennen es
place-kind-launch-area = Startgebiet
place-kind-launch-area-about = Gebiet, aus dem zu starten ist, wo die Regel über Startplätze es nennt
place-kind-scoring-area = Wertungszone
place-kind-scoring-area-about = wo Marken zählen und die Mindesthöhe endet; Aufgaben nennen sie
place-kind-prohibited = Gesperrter Luftraum
place-kind-prohibited-about = Luft, in die nicht gefahren werden darf, zwischen ihren Grenzen über dem Meer; ohne Grenzen in allen Höhen
place-kind-power-line = Stromleitung
place-kind-power-line-about = Drähte, die töten können; eine Linie, ein Punkt oder ein Gebiet; auf Karten gezeichnet, nie vollständig
place-kind-obstacle = Hindernis
place-kind-obstacle-about = ein Mast, Turm, Seil oder dergleichen; eine Linie, ein Punkt oder ein Gebiet; auf Karten gezeichnet, nie vollständig

## Sicherheit von Veranstaltung und Aufgabe
matter-safety = Sicherheit
launch-in-the-dark = Die Startzeit beginnt um { $opens }, im Dunkeln{ $how }. Die Wettbewerbsleitung verantwortet es.
landing-in-the-dark = Die letzten Marken zählen bis { $closes }, nach Einbruch der Dunkelheit{ $how }. Die Wettbewerbsleitung verantwortet es.
sun-rises = ; die Sonne geht um { $at } auf
sun-sets = ; die Sonne geht um { $at } unter
sun-unknown = {""}
minimum-of-nothing = Die Mindesthöhe ist { $minimum }. Nichts hält Ballone vom Boden und von Menschen fern.
tolerance-eats-minimum = { $tolerance } gehen bei einer Mindesthöhe von { $minimum } durch: Keine Höhe bricht die Regel.
least-time-long = Fahrt unter der Mindesthöhe zählt erst ab { $least }. Was ein Log zeigen kann, braucht wenige Sekunden.
low-flight-pays = Die halbe Mindesthöhe kostet { $points } von 1000 Punkten: Niedrig zu fahren kann sich lohnen. Die Veranstaltung muss wählen.
near-forbidden = { $place } ({ $kind }) liegt { $away } von { $from }.
on-the-way = { $place } ({ $kind }) liegt zwischen { $launch } und { $target }.
overlaps-forbidden = { $from } und { $place } ({ $kind }) überschneiden sich.
within-forbidden = { $from } liegt in { $place } ({ $kind }).
higher-than-minimum = { $place } ({ $kind }) ist { $height } hoch: Wer die Mindesthöhe von { $minimum } einhält, ist nicht darüber.
kind-and-height = { $kind }, { $height } hoch
safety-told = Sicherheit: { $what }
safety-to-acknowledge = Wer dafür verantwortlich ist, nimmt jeden Punkt mit Namen und einem Grund zur Kenntnis: sandtail accept; im Fenster auf der Seite Offene Fragen.
safety-defers = Nichts hier sagt, dass die Fahrt sicher ist. Darüber entscheiden Luftfahrtbehörde, Genehmigung der Veranstaltung, Wettbewerbsleitung und lizenzierte Piloten.

## Formate von Logs
log-format-igc = IGC
log-format-igc-about = Dateien von Flugschreibern und den meisten Flug-Apps: Positionen mit Druck- und Satellitenhöhe, Marken des Loggers, Ansagen des Piloten
log-format-gpx = GPX
log-format-gpx-about = Tracks und Wegpunkte von Handgeräten und Karten; ein Track darf aus mehreren Stücken bestehen
log-format-nmea = NMEA 0183
log-format-nmea-about = was ein Satellitenempfänger Zeile für Zeile sagt, wie aufgezeichnet
log-format-csv = Tabelle
log-format-csv-about = eine Kopfzeile, dann je Zeile eine Position: Zeit, Breite und Länge, Höhen, wo es welche gibt

## Blätter
sheet-workbook = Arbeitsmappe
sheet-workbook-about = Gesamtwertung und jede Aufgabe, mit Formeln, die zeigen, wie Punkte entstehen
sheet-board = Aushang
sheet-board-about = Gesamtwertung und Aufgaben auf Papier, zum Anheften. Eine spätere Veröffentlichung hat die Gesamtwertung und die Aufgaben, die sich geändert haben; board.json sagt, von welcher Fassung jede ist
sheet-slips = Beiblätter
sheet-slips-about = ein Beiblatt für jeden Piloten: Marken, Ergebnis, Punkte, Verstöße, mit Bildern; kurze teilen sich eine Seite. Eine spätere Veröffentlichung hat die, die sich geändert haben; slips.json sagt, von welcher Fassung jedes ist
sheet-awards = Siegerliste
sheet-awards-about = Plätze eins bis drei jeder Aufgabe, jeder Klasse und der ganzen Veranstaltung, zum Vorlesen
sheet-data = Daten
sheet-data-about = results.json mit Schema, jede Tabelle als CSV (csv-metadata.json sagt, was darin steht) und JSON, Marken und Orte als GeoJSON, für Programme
sheet-tracks = Tracks
sheet-tracks-about = die Fahrten als GeoJSON, KML und GPX, je Fahrt eine Datei
sheet-site = Seiten
sheet-site-about = Seiten für Telefone und jeden Webserver
sheet-field-forms = Messblätter
sheet-field-forms-about = zwei Blätter für jede Aufgabe, auf die das Messteam schreibt, was es misst: Piloten nach Nummern, und leere Zeilen für Marken, wie sie gefunden werden
sheet-task-sheets = Aufgabenblätter
sheet-task-sheets-about = ein Blatt für jede Fahrt: ihre Aufgaben mit allem, was dafür festgelegt ist, für die Einweisung

## Dateien und ihre Spalten
table-pilots-about = die gemeldeten Piloten; weitere Spalten bleiben erhalten und werden gezeigt
column-pilots-number = Startnummer, einmal in der Veranstaltung
column-pilots-name = Name des Piloten
column-pilots-registration = Kennzeichen des Ballons
column-pilots-class = Klasse, wo jede Klasse ihre eigene Gesamtwertung hat
column-pilots-country = Land des Piloten
column-pilots-enters = Nummer der ersten Aufgabe, an der der Pilot teilnimmt; leer = von der ersten an
column-pilots-leaves = Nummer der Aufgabe, ab der der Pilot nicht mehr teilnimmt und nicht mehr als gemeldet zählt; was davor war, bleibt; leer = bleibt, wenn keine Meldung ihn als ausgeschieden nennt
column-pilots-competes = no = außer Konkurrenz: wird gezeigt, hat keinen Platz
column-pilots-papers = Papiere gesehen: yes, no, oder der letzte Tag ihrer Gültigkeit; nie veröffentlicht
column-pilots-waiver = Haftungsverzicht unterschrieben; nie veröffentlicht
column-pilots-logger = Seriennummer des Loggers, wie im Kopf oder im Namen seiner Dateien
table-marks-about = eine Zeile für jede gemessene Marke, wie eine Person sie eintrug; zwei Zeilen von zwei Personen sind zwei Eintragungen von ihr
column-marks-task = Nummer der Aufgabe
column-marks-pilot = Startnummer
column-marks-mark = welche Marke des Piloten, wo die Aufgabe mehrere hat
column-marks-method = wie gemessen wurde
column-marks-distance = Entfernung wie gemessen; bei tape vom Ziel
column-marks-bearing = Richtung von dem Punkt, von dem gemessen wurde
column-marks-from = Punkt, von dem gemessen wurde
column-marks-distance2 = zweite Entfernung: bei arcs vom zweiten Punkt, bei offset rechtwinklig zur Linie
column-marks-from2 = zweiter Punkt
column-marks-side = Seite der Linie zwischen beiden Punkten, vom ersten aus gesehen
column-marks-easting = Gitterkoordinate, Ost
column-marks-northing = Gitterkoordinate, Nord
column-marks-lat = Breite, WGS84
column-marks-lon = Länge, WGS84
column-marks-unit = Einheit der Entfernungen dieser Zeile ohne eigene; leer = die der Veranstaltung
column-marks-time = wann die Marke fiel; bei log der Zeitpunkt, dessen Ort zählt
column-marks-measurer = wer sie maß: eine Person oder eine Gruppe
column-marks-by = wer sie eintrug
column-marks-note = eine Bemerkung
column-marks-settles = der Grund, wenn diese Zeile zwischen abweichenden Eintragungen entscheidet
column-marks-between = mit einem Grund: die Eintragungen, zwischen denen sie entscheidet; leer = die von höchstens zwei Personen, von jeder ein Wert
table-declarations-about = Ziele, die Piloten ansagten, in dieser Reihenfolge
column-declarations-task = Nummer der Aufgabe
column-declarations-pilot = Startnummer
column-declarations-goal = Name eines Ziels, oder Koordinaten, wie die Aufgabe es erlaubt
column-declarations-height = angesagte Höhe über dem Meer
column-declarations-time = wann angesagt wurde
column-declarations-place = wo angesagt wurde
column-declarations-by = wer es aufnahm
column-declarations-note = eine Bemerkung
table-reports-about = was Beobachter und Offizielle sahen
column-reports-task = Nummer der Aufgabe
column-reports-pilot = Startnummer
column-reports-kind = was gesehen wurde; withdrawn = nimmt ab dieser Aufgabe nicht mehr teil, wie mit „leaves“ in der Pilotenliste
column-reports-time = wann
column-reports-value = wie viel: eine Höhe, eine Entfernung oder wie lange
column-reports-unit = Einheit eines Wertes ohne eigene
column-reports-by = wer es sah
column-reports-note = was gesehen wurde, in Worten
table-targets-about = wann Ziele frei von anderen Ballonen gesehen, geöffnet, geschlossen und versetzt wurden
column-targets-task = Nummer der Aufgabe
column-targets-target = Name des Ziels; leer = das erste der Aufgabe
column-targets-event = clear = das Feld wurde frei von anderen Ballonen gesehen, opened = geöffnet, closed = geschlossen, moved = versetzt
column-targets-time = wann
column-targets-by = wer es sah oder tat
column-targets-note = eine Bemerkung
column-targets-easting = eines versetzten Ziels: wo es seither steht, Gitterkoordinate, Ost
column-targets-northing = Gitterkoordinate, Nord
column-targets-lat = eines versetzten Ziels: Breite, WGS84
column-targets-lon = Länge, WGS84
table-rulings-about = was Offizielle über Verstöße entschieden
column-rulings-task = Nummer der Aufgabe; leer für Wettbewerbspunkte der ganzen Veranstaltung
column-rulings-pilot = Startnummer
column-rulings-finding = der Verstoß, über den entschieden wird: seine Art, oder sein Zeichen, wo es mehrere gibt; leer, wo es keinen gibt
column-rulings-decision = zu einem Verstoß: apply = bestätigt, waive = erlassen, set = anderer Betrag, hold = der Pilot wird gefragt; ohne einen: impose = zusätzlich verhängt, bonus = Gutschrift, result = Ergebnis der Aufgabe, score = ihre Wertung, average = Mittel der anderen Wertungen des Piloten
column-rulings-amount = wie viel; leer bei apply, waive, hold und average. Bei metres darf eine Länge ihre Einheit nennen: "20 ft"
column-rulings-unit = worin es bezahlt wird
column-rulings-rule = der Absatz, auf dem sie beruht
column-rulings-reason = der Grund, den der Pilot liest
column-rulings-by = wer entschied
column-rulings-at = wann entschieden wurde
column-rulings-from = Beginn des Verstoßes, als darüber entschieden wurde
column-rulings-to = sein Ende damals
column-rulings-measured = sein gemessener Wert damals
table-assigned-about = wessen ein Log ist, wo nichts darin es sagt
column-assigned-log = Name der Datei im Ordner der Logs
column-assigned-pilot = Startnummer
table-complaints-about = Beschwerden und Proteste mit ihren Antworten; keine Wertung hängt davon ab
column-complaints-task = Nummer der Aufgabe; leer = die Veranstaltung als ganze
column-complaints-pilot = Startnummer
column-complaints-number = womit andere Zeilen sie nennen
column-complaints-kind = Beschwerde, oder Protest gegen eine Antwort
column-complaints-against = Nummer der Beschwerde, um die es in einem Protest geht
column-complaints-text = was der Pilot sagt
column-complaints-by = wer sie aufnahm
column-complaints-at = wann sie eingereicht wurde
column-complaints-note = eine Bemerkung
column-complaints-outcome = die Antwort; leer = offen
column-complaints-reason = der Grund der Antwort
column-complaints-decided-by = wer entschied
column-complaints-decided-at = wann entschieden wurde
table-notes-about = Bemerkungen, die kein Ergebnis ändern
column-notes-at = wann
column-notes-text = die Bemerkung
column-notes-by = von wem
table-accepted-about = offene Fragen, die ein Offizieller stehen ließ, mit dem Grund; `sandtail accept` schreibt die Zeilen
column-accepted-kind = Art der Frage
column-accepted-flight = ihre Fahrt
column-accepted-task = ihre Aufgabe
column-accepted-pilots = wen sie betrifft
column-accepted-mark = welche Marke sie betrifft
column-accepted-matter = das Zeichen der Frage, wie sie stand; ändert sie sich, zählt die Zeile nicht mehr
column-accepted-why = der Grund
column-accepted-by = wer sie annahm
column-accepted-at = wann

## Wie Zellen geschrieben werden
written-text = Text
written-number = eine Zahl
written-whole = eine ganze Zahl ab 1
written-task = Nummer einer Aufgabe dieser Fahrt
written-pilot = eine Startnummer der Pilotenliste
written-place = Name eines Punktes aus places.geojson
written-length = eine Länge: 12.34, 12.34 m, 40 ft 3.5 in; eine bloße Zahl gilt in `unit`, sonst in der Einheit der Veranstaltung
written-bearing = Grad von Gitternord; ein T dahinter = rechtweisend, M = von magnetisch Nord
written-latitude = Grad, oder Grad und Minuten, mit N oder S
written-longitude = Grad, oder Grad und Minuten, mit E oder W
written-time = Ortszeit HH:MM oder HH:MM:SS, davor das Datum, wenn es ein anderer Tag ist
written-moment = Datum und Ortszeit: 2026-09-12 11:20
written-measured = eine Länge oder Dauer mit Einheit
written-papers = yes, no oder ein Datum: 2027-03-31
written-numbers = Zahlen mit Leerzeichen dazwischen

## Das Handbuch
manual = Das Handbuch von Sandtail
manual-contents = Inhalt
manual-morning = Zum Lernen: ein Morgen einer kleinen Veranstaltung
manual-window = Das Fenster, Seite für Seite
manual-official = Wie ein Offizieller der Regeln entscheidet
manual-pilot = Wie ein Pilot sein Beiblatt liest
manual-desks = Mehrere Arbeitsplätze, Netz und Uhren
manual-work = Wozu jeder Befehl dient
manual-folder = Ein Ordner einer Veranstaltung, von Hand geschrieben
manual-times = Zeiten: Zonen, Nächte, Uhren
manual-offline = Einrichten ohne Netz
manual-licence = Lizenzen
manual-files = Dateien im Ordner einer Veranstaltung und ihre Schlüssel
manual-columns = Spalten seiner Tabellen
manual-places = Arten von Orten
manual-tasks = Arten von Aufgaben
manual-rules = Regeln
manual-log-formats = Logs, die gelesen werden können
manual-infringements = Verstöße, nach denen gesucht wird
manual-matters = Offene Fragen
manual-journal = Einträge im Journal einer Veranstaltung
manual-sheets = Blätter, die geschrieben werden können
manual-commands = Befehle
manual-schema = Die Form von results.json, als JSON-Schema
manual-files-written = Zeiten sind Ortszeiten, HH:MM oder HH:MM:SS; Längen sind Text mit einer Einheit, "75 ft". Tabellen sind UTF-8 mit Kommas oder Strichpunkten und einer Kopfzeile; Zeilen, die mit # beginnen, werden übergangen. Ein Fehler nennt Datei, Zeile und Feld; alle werden auf einmal genannt.
manual-places-written = Eine GeoJSON FeatureCollection (RFC 7946) mit Länge und Breite in WGS84. Jedes Feature hat unter seinen Eigenschaften `name`, einmal in der Veranstaltung, und `kind`.
manual-log-formats-told = Der Inhalt einer Datei sagt ihr Format; ihre Endung wird gefragt, wo der Inhalt nichts sagt.
manual-unit-m = Meter
manual-unit-km = Kilometer
manual-unit-deg = Grad
manual-unit-km2 = Quadratkilometer
manual-unit-s = Sekunden
manual-worked = Ein Ergebnis jeder Art, von Hand gerechnet. Orte, Marken und Fahrten sind Meter östlich und nördlich eines Punktes des Kartengitters; die der Weitfahrt sind Breiten und Längen. Die Prüfungen des Programms werten sie alle.
manual-worked-kind = Art
manual-worked-task = die Aufgabe sagt
manual-worked-places = Orte
manual-worked-evidence = Marken, Ansagen und Log
manual-worked-sum = Ergebnis
manual-worked-declared = { $goal } um 06:40 angesagt
manual-worked-log = gerade und gleichmäßig gefahren von { $start } um { $begun } nach { $end } um { $ended }
manual-needs-target = sie muss ihr Ziel nennen
manual-needs-area = sie muss eine Wertungszone nennen
manual-needs-roles = Punkte und Marken heißen
manual-needs-one-of = sie muss eines davon nennen
manual-needs-declarations = Piloten sagen ihre Ziele an: declarations.csv, oder das Log
manual-needs-no-mark = keine Marke ist nötig: das Log allein kann das Ergebnis geben
manual-default = ohne Angabe
manual-rule-choice = Eines aus einer Liste
manual-rule-length = Eine Länge, "75 ft"
manual-rule-step = Ein Schritt in Fuß oder Zoll, "1/2 in"
manual-rules-paragraphs = Jede dieser Tabellen darf sagen, wo die Regeln der Veranstaltung es haben: `source = "§ 9.4"` für alle ihre Schlüssel, oder `source = { "{" } height = "§ 9.4" { "}" }` für einzelne. Der Absatz steht dann überall, wo die Regel steht.
manual-rule-duration = Eine Dauer, "3 s"
manual-rule-count = Eine ganze Zahl
manual-rule-counts = Eine Liste ganzer Zahlen
manual-rule-text = Text
manual-rule-name = Name eines Ortes
manual-rule-share = Eine Zahl von 0 bis 1
manual-rule-yes-no = true oder false
manual-rule-penalties = Eine Tabelle wie { "{" } unit = "task points", per = 1, of = "ft", cap = 500 { "}" }, oder mehrere in einer Liste; "no result" oder "disqualified" steht allein
manual-blocks-official = Hält Ergebnisse davon ab, amtlich zu werden
manual-blocks-final = Hält Ergebnisse davon ab, endgültig zu werden
manual-blocks-nothing = Hält Ergebnisse von nichts ab
manual-closes-pilots = zu schließen bei den Piloten
manual-closes-places = zu schließen bei den Orten
manual-closes-tasks = zu schließen bei den Aufgaben
manual-closes-rules = zu schließen bei den Regeln
manual-closes-marks = zu schließen bei den Marken
manual-closes-compare = zu schließen, wo Eintragungen verglichen werden
manual-closes-reports = zu schließen bei den Meldungen
manual-closes-logs = zu schließen bei den Logs
manual-closes-infringements = zu schließen bei den Verstößen
manual-closes-publish = zu schließen vor dem Veröffentlichen
manual-closes-complaints = zu schließen bei den Beschwerden
manual-closes-journal = zu schließen im Journal
manual-acceptable = ein Offizieller darf es annehmen, wie es ist
manual-settled-only = es lässt sich nur entscheiden
manual-goes-up = geht mit einer Veröffentlichung in den Aushang
file-event-toml = die Veranstaltung und ihre Regeln
file-flight-toml = eine Fahrt: ihr Tag und ihre Aufgaben; FLIGHT ist ein beliebiger Name
file-places-geojson = Ziele, Zielpunkte, Bezugspunkte und Gebiete
file-logs = die Logs
file-air-json = mit welcher Luft die Logs gelesen wurden, als zum ersten Mal Ergebnisse aushingen; vom Export geschrieben, nicht von Hand. Ohne die Datei wird die Luft aus allen Logs bestimmt
level-elevation-m = Höhe des Bodens dort, Meter über dem Meer
level-lower-m = Untergrenze, Meter über dem Meer; weggelassen = der Boden
level-height-m = wie hoch es steht, Meter über Grund; weggelassen = nicht bekannt
level-upper-m = Obergrenze, Meter über dem Meer; weggelassen = keine
log-format-archive = viele Logs in einer Datei, jedes dieser Formate
key-event-name = Name der Veranstaltung
key-event-venue = wo sie stattfindet
key-event-time-zone = IANA-Name der Zeitzone, "Europe/Madrid"
key-event-crs = projiziertes Bezugssystem in Metern, "EPSG:25830"
key-event-units = wie Längen gelesen und eingetragen werden: "metric" oder "imperial"
key-event-distance = auf welcher Fläche Entfernungen gemeint sind: "ground", "grid" oder "ellipsoid"
key-event-terrain = Name des Höhengitters im Ordner
key-event-terrain-sigma = Standardunsicherheit des Gitters, "5 m"
key-event-ground-elevation = Höhe des Bodens, wo kein Gelände sie gibt, "640 m"
key-event-public-columns = weitere Spalten der Pilotenliste, die veröffentlicht werden dürfen; alle anderen nicht. "note" gibt frei, was Offizielle neben Eintragungen und Meldungen schrieben
key-event-declination = Missweisung in Grad, Ost positiv
key-event-survey = Standardunsicherheiten von Messungen, die von den üblichen abweichen
key-flight-date = Datum am Ort, 2026-09-12
key-flight-qnh-hpa = Luftdruck auf Meereshöhe, hPa
key-flight-temperature-c = Temperatur am Boden, °C
key-flight-note = eine Bemerkung
key-flight-task = die Aufgaben, jede unter [[task]]
key-task-number = Nummer der Aufgabe, einmal in der Veranstaltung
key-task-kind = Kürzel der Art der Aufgabe
key-task-target = Name des Ziels
key-task-targets = mehrere Namen, oder Namen nach ihrer Rolle: { "{" } A = "bridge" { "}" }
key-task-scoring-area = Name der Wertungszone
key-task-scoring-areas = mehrere davon
key-task-launch-period = ["06:45", "07:30"]
key-task-scoring-period = ["07:00", "09:30"]
key-task-measuring-radius = Entfernung, über die hinaus eine Marke nicht mit dem Band gemessen wird, "100 m"
key-task-marker = Farbe des Markers
key-award-name = wie der Preis heißt
key-award-for = "overall", "class", "team", "day" oder "task"
key-award-task = Nummer der Aufgabe, für die er ist; nichts = jede Aufgabe
key-award-day = der Tag, für den er ist; nichts = jeder Tag
key-award-class = die Klasse, in der er vergeben wird; nichts = jede Klasse, oder alle
key-award-places = wie viele Plätze; nichts = 3
key-award-ties = "shared" = gleiche Plätze teilen ihn, "counted back" = mehr erste Plätze in Aufgaben gehen vor, dann mehr zweite; in einer Aufgabe der bessere Platz der Gesamtwertung
key-task-state = "planned", "flown" oder "cancelled"; steht nichts da: geplant, bis eine Marke, Meldung, Entscheidung oder ein Log da ist
key-task-rules = Regeln nur dieser Aufgabe, wie unter [rules]

## Vorsicht: Behörde, Genehmigung, Wettbewerbsleitung und lizenzierte Piloten gehen vor
caution = Ergebnisse und Höhen sind Belege für einen Sport, nach der Fahrt mit angegebener Unsicherheit berechnet. Sie dienen nicht der Navigation und sagen nicht, ob eine Fahrt erlaubt oder sicher war. Luftfahrtbehörde, Genehmigung der Veranstaltung, Wettbewerbsleitung und lizenzierte Piloten gehen vor.
caution-rules = Dies sind Regeln eines Sports. Luftfahrtbehörde, Genehmigung der Veranstaltung, Wettbewerbsleitung und lizenzierte Piloten gehen vor.
caution-short = Nachträglich berechnet, mit angegebener Unsicherheit: Beleg für einen Sport, nicht zur Navigation, nicht dafür, dass eine Fahrt erlaubt oder sicher war. Behörde, Genehmigung, Leitung und lizenzierte Piloten gehen vor.
caution-low = Niedrige Fahrt nahe Menschen, Stromleitungen und Hindernissen kann tödlich sein: eine Mindesthöhe ist eine Grenze des Spiels, niemals die Aussage, dass die Fahrt in dieser Höhe sicher ist.
caution-winds = Tracks gelandeter Ballone: sie sagen, wie der Wind war, Schicht für Schicht, nicht wie er ist oder wird. Dies ist keine Vorhersage: maßgebend ist der amtliche Wetterbericht. Luftfahrtbehörde, Genehmigung der Veranstaltung, Wettbewerbsleitung und die verantwortlichen Piloten gehen vor.
caution-map = Nicht zur Navigation: Umrisse, wie die Veranstaltung sie festlegte, ohne Einzelheiten am Boden.

## Ergebnisse kurz gesagt
rules-of-event = Regeln: { $rules }
task-title = Aufgabe { $task } · { $kind } ({ $code })
task-of-flight = { $title }, Fahrt { $flight }
task-cancelled-title = { $title }: abgesagt, zählt nicht
task-planned-title = { $title }: noch nicht gefahren, gibt keine Punkte
of-day = { $flight } vom { $day }
formula-line = { $entered } gemeldet, { $scorers } mit Ergebnis, mittlerer Platz { $median } ({ $at_median }, { $points ->
    [one] 1 Punkt
   *[other] { $points } Punkte
  }), bestes { $best }
formula-withdrawn = { $line }; vorher ausgeschieden: { $pilots }
formula-entered-once = { $line }; { $once } von { $marks } Marken nur von einer Person eingetragen
task-after-withdrawal = { $title }: vorher ausgeschieden, keine Wertung
formula-nobody = { $entered } gemeldet, niemand hat ein Ergebnis
formula-places = { $entered } gemeldet, { $scorers } mit Ergebnis, bestes { $best }; Punkte für jeden Platz
formula-none = { $entered } gemeldet, { $scorers } mit Ergebnis, bestes { $best }; keine Punkte, die Plätze gehen nach dem Ergebnis
best-smallest = das kleinste Ergebnis ist das beste
best-greatest = das größte Ergebnis ist das beste
term-group-a = mit Ergebnis
term-group-b = gefahren, kein Ergebnis
term-group-c = nicht gefahren
term-disqualified = disqualifiziert
term-verdict-clear = kein Verstoß
term-verdict-possible = möglich
term-verdict-certain = sicher
none = keine
no-result = kein Ergebnis
not-settled-yet = offen
not-settled = offen: die Eintragungen weichen ab
metres-penalty = Strafe { $penalty }
remark-penalty = { $cause }: { $amount }
remark-waived = Verstoß erlassen
remark-undecided = Verstoß noch nicht entschieden
remark-entered-once = nur von einer Person eingetragen
amount-not-counted = { $amount } (zählt nicht)
and-event-points = { $penalty } (und { $points } von der Summe)
worth-measuring = Nachmessen lohnt: { $better } und { $worse } (ihre Reihenfolge ist falsch mit Wahrscheinlichkeit { $chance })
worth-measuring-equal = Nachmessen lohnt: { $better } und { $worse } (als gleich gewertet)
in-brackets = { $count ->
    [one] Die beste Aufgabe zählt; andere stehen in Klammern.
   *[other] Die besten { $count } Aufgaben zählen; andere stehen in Klammern.
  }
in-brackets-events = { $count ->
    [one] Die beste Veranstaltung zählt; andere stehen in Klammern.
   *[other] Die besten { $count } Veranstaltungen zählen; andere stehen in Klammern.
  }
no-faults = { $event }: keine Fehler. { $pilots ->
    [one] 1 Pilot
   *[other] { $pilots } Piloten
  }, { $places ->
    [one] 1 Ort
   *[other] { $places } Orte
  }, { $flights ->
    [one] 1 Fahrt
   *[other] { $flights } Fahrten
  }, { $tasks ->
    [one] 1 Aufgabe
   *[other] { $tasks } Aufgaben
  }, { $marks ->
    [one] 1 Eintragung einer Marke
   *[other] { $marks } Eintragungen von Marken
  }, { $logs ->
    [one] 1 Log
   *[other] { $logs } Logs
  }.
rules-scored-by = { $event }: die Regeln, nach denen gewertet wird
rule-answered = { $by }, { $at }
rule-answered-because = { $by }, { $at }: { $why }
rules-of-task = { $title } hat eigene Regeln:
written = Geschrieben: { $files }
output-lost = Die Arbeit ist getan, aber was sie ausgibt, ließ sich nicht schreiben: { $error }. Der Ausgabe einen anderen Ort geben oder dort Platz schaffen; was sie sagt, zeigt ein Befehl, der nur liest, etwa score oder open-matters.
system-failed = Angehalten, denn dieser Rechner hat etwas verweigert: { $error }. Alles, was vorher festgehalten wurde, ist bewahrt. Das in Ordnung bringen (Platz auf der Platte, Rechte an Dateien, Speicher, Zahl der laufenden Programme) und den Befehl noch einmal geben.
files-below = { $files ->
    [one] 1 Datei
   *[other] { $files } Dateien
  } geschrieben unter { $folder }
pages-written = { $files ->
    [one] 1 Datei
   *[other] { $files } Dateien
  } geschrieben; zu öffnen: { $first }
put-up-with = { $headline }, Eintrag { $entry }, { $files ->
    [one] 1 Datei
   *[other] { $files } Dateien
  }
entries-taken = { $file }: { $entries ->
    [one] 1 Eintrag
   *[other] { $entries } Einträge
  } aus { $source }
whole-copy = { $file }: { $entries ->
    [one] 1 Eintrag
   *[other] { $entries } Einträge
  }, eine vollständige Kopie
look-at = Ansehen: { $what }
season-entered-since = { $event } zählt so, wie in Version { $version } veröffentlicht; seither { $entries ->
    [one] wurde ein Eintrag
   *[other] wurden { $entries } Einträge
 } gemacht. Neu veröffentlichen, oder alle Wettbewerbe jetzt auswerten (--afresh).
season-still-open = { $event }: etwas ist offen oder nicht entschieden, die Punkte können sich noch ändern.
season-without-points = { $event } vergibt keine Punkte und gibt keine hinzu. Sagen, was jeder Platz wert ist (--places 25,20,16,...).
season-twice = { $event } ist mehr als einmal angegeben.
season-entered-twice = „{ $pilot }“ ist { $times }-mal gemeldet ({ $event }), unter { $numbers }. Sie wurden vereint, und die letzte zählt. Auch nach der Nummer vereinen.
season-several-numbers = „{ $pilot }“ hat die Nummern { $numbers }: getrennt gelassen. Ist es eine Person, nach dem Namen vereinen (--by-name) oder eine Nummer geben.
season-several-names = Nummer { $number } ist „{ $one }“ und „{ $other }“: getrennt gelassen. Ist es eine Person, den Namen in beiden Pilotenlisten gleich schreiben.
event-number = Veranstaltung { $number }: { $event }
no-winds = { $flight }: kein Log zeigt den Wind
not-shown = Aus Platzmangel nicht gezeigt: { $columns }

## Überschriften von Tabellen
head-rank = Platz
head-number = Nr.
head-pilot = Pilot
head-country = Land
head-class = Klasse
head-group = Gefahren
head-result = Ergebnis
head-sigma = ±
head-points = Punkte
head-penalty = Strafe
head-score = Wertung
head-places = Plätze 95 %
head-remarks = Bemerkungen
head-task = Aufgabe
head-task-number = Aufgabe { $task }
head-event-number = Veranst. { $number }
head-infringement = Verstoß
head-sure = Sicher
head-chance = Wahrsch.
head-decision = Entscheidung
head-seen = Was gesehen wurde
head-matter = Frage
head-blocks = Hält auf
head-flight = Fahrt
head-to-know = Gut zu wissen
head-total = Summe
head-team = Mannschaft
head-team-pilots = Gewertete Piloten
head-competition-penalty = Strafe Wettbewerb
head-task-penalty = Strafe Aufgabe
head-height = Höhe über Grund
head-wind-from = Aus, rechtweisend
head-wind-speed = { $unit }
head-wind-spread = Streuung { $unit }
head-wind-minutes = Ballonminuten
head-wind-balloons = Ballone
source-event-must-say = die Veranstaltung muss es sagen
head-rule = Regel
head-value = Wert
head-source = Woher er stammt
head-key = Schlüssel in der Datei der Veranstaltung
head-kind = Art
head-state = Stand
head-unit = Einheit
head-best = Bestes
head-flown = Gefahren
head-measured = Gemessen
head-metres-penalty = Meter dazu
head-formula-points = Punkte
head-rank-low = Bester Platz (95 %)
head-rank-high = Schlechtester Platz (95 %)
head-settled = Entschieden
head-infringements = Verstöße
head-why = Warum kein Ergebnis
head-method = Verfahren
head-distance-m = Entfernung, m
head-sigma-m = Unsicherheit, m
head-uncertainty = Unsicherheit
head-lat-deg = Breite, °
head-lon-deg = Länge, °
head-time-utc = Zeit, UTC
head-steps = Wie
head-bearing-deg = Peilung, °
head-north = Nord
head-from = Von
head-distance2-m = Zweite Entfernung, m
head-from2 = Zweites Von
head-side = Seite
head-easting-m = Ostwert, m
head-northing-m = Nordwert, m
head-by = Von
head-entered-by = Eingetragen von
head-note = Bemerkung
head-settles = Entscheidet, weil
head-entered = Gemeldet
head-as-entered = Wie eingetragen
head-probability = Wahrscheinlichkeit
head-from-utc = Von, UTC
head-to-utc = Bis, UTC
head-duration-s = Dauer, s
head-limit = Grenze
head-excess = Darüber hinaus
head-penalty-proposed = Vorgeschlagene Strafe
head-counted = Gezählte Strafe
head-in-words = In Worten
head-evidence = Beleg
head-sha256 = SHA-256
head-sha256-of-evidence = SHA-256 des Belegs
head-amount = Betrag
head-counts = Zählt
head-sum = Wie es zustande kommt
head-reason = Grund
head-at = Um
head-accepted = Angenommen
head-log = Log
head-fixes = Positionen
head-launch-utc = Start, UTC
head-launch-lat-deg = Breite des Starts, °
head-launch-lon-deg = Länge des Starts, °
head-landing-utc = Landung, UTC
head-landing-lat-deg = Breite der Landung, °
head-landing-lon-deg = Länge der Landung, °
head-highest-m = Max. über Grund, m
head-height-checked = Höhe geprüft
head-notes = Bemerkungen
head-height-m = Höhe über Grund, m
head-from-deg = Aus, ° rechtweisend
head-speed-m-s = Geschwindigkeit, m/s
head-spread-m-s = Streuung, m/s
head-balloons = Ballone
head-seconds = Fahrzeit, s
head-with-result = Mit Ergebnis
head-median-rank = Mittlerer Platz
head-best-result = Bestes Ergebnis
head-at-median = Ergebnis am mittleren Platz
head-median-points = Punkte mittl. Platz
head-result-as-read = Ergebnis, wie gelesen
head-published = Wertung, wie veröffentlicht
head-measured-in = Gemessen, { $unit }
head-result-in = Ergebnis, { $unit }
head-own = { $name }
list-standings-teams = Mannschaftswertung
list-tasks = Aufgaben
list-scores = Wertungen der Aufgaben
list-marks = Marken
list-entries = Eintragungen von Marken
list-infringements = Verstöße
list-penalties = Strafen
list-decisions = Entscheidungen
list-open-matters = Offene Fragen
list-logs = Logs
list-winds = Wind, wie gefahren
list-pilots = Piloten
page-front = Deckblatt
page-standings = Gesamtwertung
page-class = Klasse { $name }
page-task = Aufgabe { $task }
title-standings = Gesamtwertung
title-standings-class = Gesamtwertung der Klasse { $name }
title-standings-teams = Mannschaftswertung
title-infringements = Verstöße
title-open-matters = Offene Fragen
title-winds = Fahrt { $flight } vom { $day }
title-season = Saison
title-season-class = Saison, Klasse { $name }
holds-up-official = amtlich
holds-up-accepted = angenommen
told-in-short = So groß ist die Veranstaltung, dass ein Terminal sie in Kürze bekommt: „--task N“ druckt eine Aufgabe mit allen Wertungen und Verstößen, „--out ORDNER“ schreibt alles, und alles bekommt auch eine Datei oder ein Programm zum Blättern.
see-open-matters = Der Befehl „open-matters“ sagt, was jede davon schließt.
holds-up-final = endgültig

## Der Weg zu den Punkten
explain-title = { $pilot }, { $event }
explain-task = { $title }, Fahrt { $flight } am { $day }
explain-task-planned = { $title }, Fahrt { $flight } am { $day }: noch nicht gefahren
explain-task-cancelled = { $title }, Fahrt { $flight } am { $day }: abgesagt
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
explain-log = Log { $log }, { $fixes ->
    [one] 1 Position
   *[other] { $fixes } Positionen
  }, SHA-256 { $sha256 }
explain-no-log = kein Log
explain-spread = in zwei von drei Fällen auf { $give_or_take } genau gemessen
explain-not-settled = Offen: dieses Ergebnis kann noch nicht amtlich werden.
explain-rule = Regel: { $rule }
explain-equal = gleich mit { $others }; Regel: { $rule }
explain-seen = { $what }, { $sure } ({ $chance }), { $when }: { $seen }
explain-from-to = { $start } bis { $end }
explain-not-timed = Uhrzeit nicht notiert
explain-asks = die Regeln verlangen: { $amounts }
explain-asks-nothing = die Regeln verlangen von sich aus nichts: die Wettbewerbsleitung entscheidet
file-and-line = { $file } Zeile { $line }
explain-based-on = Beleg: { $evidence }
explain-based-on-log = Beleg: { $evidence }, SHA-256 { $sha256 }
explain-undecided = noch nicht entschieden; zählt vorerst: { $costs }
explain-undecided-possible = noch nicht entschieden; zählt vorerst nicht
explain-decided = { $ruling }; zählt: { $costs }
explain-waived = { $ruling }; zählt: nichts
explain-added = von der Wettbewerbsleitung verhängt: { $amount }
term-nothing = nichts
cited-rule = Regel: { $rule }
explain-rank = Platz { $rank } von { $field }, { $group }
explain-range = im Rahmen der Messunsicherheit Platz { $low } bis { $high } (95 %)
explain-task-score = Aufgabe { $task }: { $score }
explain-task-left-out = Aufgabe { $task }: { $score } (zählt nicht: nicht unter den besten)
explain-competition-points = Wettbewerbspunkte: −{ $points }
explain-tie = gleich mit anderen; Regel: { $rule }
explain-class = Klasse { $name }: Platz { $rank } von { $field }

## Blätter
headline-draft = Entwurf, nicht veröffentlicht
headline-of-parts = { $tasks }, Gesamtwertung: { $standings }
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
fact-head = Eintragungen und Ergebnisse
code-head = Für sandtail verify
fact-hash = Ergebnisse SHA-256
fact-caution = Vorsicht
hash-in-short = Ergebnisse SHA-256 { $hash }
slip-task = { $title }: { $result }, Platz { $rank }, Wertung { $score }
page-of = Seite { $page } von { $pages }
task-in-short = Aufgabe { $task }: { $kind }
legend-dash-points = Ein Strich: zu dieser Aufgabe nicht gemeldet; sie zählt nichts.
legend-dash-result = Ein Strich: kein Ergebnis in dieser Aufgabe oder nicht zu ihr gemeldet; sie zählt nichts.
legend-competition-penalty = Strafe Wettbewerb: Punkte, die von der Summe abgezogen sind.
sign-not-printed = Keine Schrift der Blätter hat das Zeichen { $sign }: in „{ $name }“ wird es als Kästchen gedruckt. Die Seiten und die Arbeitsmappe zeigen es. Den Namen mit anderen Zeichen schreiben, wo er auf Papier gelesen werden muss.
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
cancelled = abgesagt
planned = geplant
title-results = Ergebnisse
title-awards = Siegerliste
head-place = Platz
task-in-class = { $task }, Klasse { $name }
nobody-placed = Niemand hat ein Ergebnis.
nothing-to-award = Nichts zu vergeben.
sign-awarded = Überreicht am
title-slips = Beiblätter der Piloten
title-slip = Beiblatt für Pilot { $number }
title-competition-points = Wettbewerbspunkte
so-many-lines = { $count ->
    [one] 1 Zeile
   *[other] { $count } Zeilen
  }
title-method = Wie aus Ergebnissen Punkte werden
title-cautions = Vorsicht
title-order = Arbeitsgang
title-worksheets = Blätter
title-changes = Änderungen
first-publication = erste Veröffentlichung
of-version = Fassung { $version }: { $what }
as-published = { $what }, wie veröffentlicht
struck-out = Durchgestrichene Wertungen zählen nicht.
complaints-until = Beschwerden bis { $at }
blue-cells = Blaue Zellen sind Formeln; die Seite Verfahren erklärt sie.
scores-that-differ = Anders gewertet
state-flown = gefahren
state-cancelled = abgesagt
state-planned = geplant
head-competition-short = Strafe Wettb.
head-holds-up = Hält amtliche Ergebnisse auf
nothing-to-put-up = Nichts auszuhängen.
no-slip = Kein Pilot für ein Beiblatt.
no-map = Kein Log dieser Fahrt: keine Karte.
page-last-changed = Diese Seite ist von der Fassung, die zuletzt etwas auf ihr geändert hat. Die neueste Fassung steht unter Gesamtwertung.
code-breakdowns = Wege zu den Punkten
code-this-page = diese Seite im Netz
this-task-is-planned = Diese Aufgabe ist noch nicht gefahren; sie gibt keine Punkte.
this-task-is-cancelled = Diese Aufgabe ist abgesagt; sie zählt nicht.
brackets-do-not-count = Wertungen in Klammern zählen nicht.
changed = Geändert: { $what }
board-changed = { $paper } hat die Aushänge, die sich geändert haben, { $changed } von { $all }; die anderen sind, wie sie veröffentlicht wurden.
sheets-stay = Auf diesen Aushängen hat sich nichts geändert, sie bleiben, wie sie hängen: { $sheets }.
board-and-slips-changed = { $board } { $slips }
slips-changed = { $changed ->
    [0] Kein Beiblatt hat sich geändert: alle { $all } sind, wie sie veröffentlicht wurden.
   *[other] { $paper } hat die Beiblätter, die sich geändert haben, { $changed } von { $all }; die anderen sind, wie sie veröffentlicht wurden.
}
sign-director = Wettbewerbsleitung
sign-put-up = Ort, Tag und Uhrzeit des Aushangs
formula-of-flight = Fahrt { $flight } · { $best } · { $line }
sum-and-place = Summe: { $sum } · Platz { $rank } von { $field }
penalty-line = Strafe: { $penalty }
picture-where = { $what }: wo es war, { $pilot }
picture-marks = { $task }: Marken von { $pilot } um das Ziel
picture-profile = { $what }, { $pilot }: Höhe über Grund von { $start } bis { $end }
picture-flight = Höhe über Grund, ganze Fahrt von { $pilot }
picture-way = Fahrt von { $pilot }: Track, Ziele, Marken und Verstöße
picture-axis = { $unit } über Grund
picture-ground = Boden
picture-speeds = { $what }, { $pilot }: Geschwindigkeit über Grund und Steigen oder Sinken
picture-drift = Geschwindigkeit über Grund, { $unit }
picture-vertical = Steigen und Sinken, { $unit }
picture-legend = Bilder: der Verstoß ist rot, seine Grenze eine gestrichelte rote Linie, Track und Höhe sind blau; das Band um die Höhe gilt in zwei von drei Fällen. In einer grünen Fläche wird gewertet, eine braune gestrichelte Linie begrenzt, rote Flächen sind gesperrt. Höhen sind die des Korbs.
picture-limit = Grenze { $limit }
picture-axis-sea = { $unit } über dem Meer
picture-altitude = { $place }, { $pilot }: Höhe gegen den Luftraum von { $start } bis { $end }
picture-airspace-from = { $name } ab { $height }
picture-airspace-to = { $name } bis { $height }
picture-mark-and-target = Marke und Ziel, Norden oben
picture-heights = Höhe über Grund; das Band gilt in zwei von drei Fällen
picture-track = Der Track vom Start bis zur Landung, Norden oben
page-method = Verfahren
title-versions = Fassungen und Änderungen
title-data = Daten
title-flight = Fahrt { $flight }
flight-log = Log
first-publication-page = Erste Veröffentlichung.
no-change-listed = Keine Änderung verzeichnet.
data-csv = eine Tabelle, UTF-8
data-json = für Programme
data-geojson = Marken oder Orte auf einer Karte (RFC 7946)
data-kml = Marken und Orte für Globen (KML 2.2)
data-gpx = Marken und Punkte für Empfänger (GPX 1.1)
to-the-content = Zum Inhalt
published-on = veröffentlicht
complaints-by = Beschwerden bis
pages = Seiten
number-or-name = Nummer oder Name
so-many-found = { $count } gefunden
find-a-pilot = Pilot suchen
scores-by-task = Wertungen nach Aufgaben
step-by-step = Schritt für Schritt
marks-as-entered = Marken, wie eingetragen
changed-in-version = Geändert in Fassung { $version }
newer-version = Eine neuere Fassung dieser Ergebnisse ist veröffentlicht. Hier öffnen.
fact-newest = Neueste Fassung unter
pilot-number = Nr. { $number }
places-mean = Plätze 95 %: die Plätze, die innerhalb der Messunsicherheit möglich sind.

## Wie aus Ergebnissen Punkte werden
order-1 = Marken geben ein Ergebnis in der Einheit der Aufgabe: Meter, Grad, Quadratkilometer oder Sekunden.
order-2 = Strafen in Metern gehen in das Ergebnis ein und verschlechtern es.
order-3 = Piloten haben ein Ergebnis, sind ohne Ergebnis gefahren oder nicht gefahren; wer disqualifiziert ist, gilt als nicht gefahren.
order-4 = Ergebnisse werden gerundet, wie die Regeln es sagen, kaufmännisch, und gereiht.
order-5 = Plätze und Ergebnisse werden nach der Formel der Regeln zu Punkten.
order-6 = Aufgabenstrafen werden von den Punkten abgezogen; eine Aufgabenwertung ist nie unter 0.
order-7 = Wettbewerbsstrafen werden von der Summe abgezogen, die unter 0 gehen kann.
order-8 = Ein sicherer Verstoß zählt vorläufig, bis entschieden ist; ein möglicher zählt nur, wenn so entschieden wird.
formula-of-model-1 = Der mittlere Platz ist die Hälfte aller gemeldeten Piloten, aufgerundet; haben weniger ein Ergebnis, deren Zahl.
formula-of-model-2 = Vor dem mittleren Platz: 1000 − (1000 − Punkte des mittleren Platzes) × (Ergebnis − bestes Ergebnis) ÷ (Ergebnis am mittleren Platz − bestes Ergebnis).
formula-of-model-3 = Ab dem mittleren Platz: 1000 × (gemeldete Piloten + 1 − Platz) ÷ gemeldete Piloten.
formula-of-model-4 = Das beste Ergebnis erhält immer 1000 Punkte. Punkte sind ganz, ab der Hälfte aufgerundet.
formula-of-model-5 = Wer ohne Ergebnis gefahren ist, teilt den Rest: je die Hälfte von 1000 × (gemeldete Piloten + 1 − Piloten mit Ergebnis) ÷ gemeldete Piloten, je 500, wo niemand ein Ergebnis hat; keine, oder die Punkte des Platzes nach dem letzten Ergebnis oder des letzten Platzes, wo die Regeln es sagen.
formula-of-model-6 = Wer nicht gefahren ist, erhält keine.
formula-of-model-7 = Die Formel ist die der veröffentlichten Muster-Wettbewerbsregeln, Kapitel 14; ihr Wortlaut, weniger als die Hälfte mit Ergebnis und die Punkte ohne Ergebnis sind aus dem Gedächtnis: eine Meisterschaft prüft ihre eigene Ausgabe.
formula-of-places-1 = Jeder Platz erhält die Punkte, die die Regeln für ihn nennen; Plätze darüber hinaus erhalten keine.
formula-of-none-1 = Diese Regeln geben nur Plätze, keine Punkte.

## Messblätter und Aufgabenblatt
printed-at = Gedruckt { $at }
form = Vordruck
title-field-form = Messblatt: { $task }
title-task-sheet = Aufgabenblatt, Fahrt { $flight }
flight-of-day = Fahrt { $flight } · { $day }
how-to-measure = Von der Mitte des Ziels zum nächsten Punkt des Sandsacks am Marker messen. Das Band zweimal lesen, beim zweiten Mal jemand anders. Durchstreichen, nie überschreiben.
in-order-found = Nummer und Kennzeichen jedes Markers aufschreiben, wie er gefunden wird, je eine Zeile. Ein Kreuz unter „keine gefunden“ erst, wenn die Suche beendet ist.
cross-when-none-found = Ein Kreuz unter „keine gefunden“ erst, wenn die Suche beendet ist.
how-to-note-time = Die Regeln verlangen die Zeit, zu der jeder Marker fiel: nach der Uhr, auf die Sekunde.
how-to-note-measurer = Die Regeln verlangen zu jeder Marke, wer sie maß.
write-as-metric = Meter und Zentimeter, z. B. 12,34 m
write-as-imperial = Fuß und Zoll, z. B. 40 ft 3 1/2 in
measured-by = Gemessen von
written-by = Geschrieben von
second-reading-by = Zweite Lesung von
tape-from-to = Band Nr., von – bis
head-mark = Marke
head-registration = Kennzeichen
head-distance = Entfernung
head-second-reading = Zweite Lesung
head-bearing = Peilung °
head-measured-from = Gemessen von
head-time = Zeit
head-none-found = Keine gefunden
head-drop-time = Gefallen um
head-measurer = Gemessen von
fact-date = Datum
fact-target = Ziel
fact-target-moved = Ziel versetzt um { $at }
moved-nobody-said-where = Niemand hat eingetragen, wo es seither steht
fact-point = Punkt { $role }
fact-marker = Marker
fact-radius = Messkreis
fact-write-as = Längen schreiben als
fact-scoring-areas = Wertungszonen
fact-launch-period = Startzeit
fact-scoring-period = Wertungszeit
fact-times = Zeiten
fact-qnh = QNH
fact-temperature = Temperatur
fact-sun = Sonnenaufgang, Sonnenuntergang
fact-coordinates = Koordinaten
local-times = örtlich, { $zone }
grid-and-wgs84 = Gitter { $grid }, und Breite und Länge in WGS84
at-grid = Gitter { $east } O, { $north } N
above-sea = { $height } über dem Meer
task-about = Ergebnis: { $about }; { $best }.
title-before-all = Vor allem anderen
caution-task-sheet = Die Vorschriften der Luftfahrtbehörde, die Genehmigung der Veranstaltung, die Wettbewerbsleitung und die Sicherheitsverantwortlichen gehen allem auf diesem Blatt vor. Der verantwortliche, für die Fahrt lizenzierte Pilot entscheidet, ob gefahren wird.
title-limits-of = { $count ->
    [one] Grenzen des Spiels: Aufgabe { $tasks }
   *[other] Grenzen des Spiels: Aufgaben { $tasks }
  }
picture-targets = Ziele und Gebiete der Fahrt { $flight }
limit-floor = Mindesthöhe
limit-contact = Bodenberührung
limit-launch = Start
limit-scoring = Wertung
limit-airspace = Gesperrter Luftraum
limit-boundary = Grenze
limit-night = Tageslicht
limit-declarations = Angesagte Ziele
officials-decide = Offizielle entscheiden
airspace-between = { $bottom } bis { $top }
airspace-ground = Boden
airspace-unlimited = unbegrenzt
earliest-launch = Frühester Start
latest-landing = Späteste Landung
limit-not-answered = Von der Veranstaltung nicht beantwortet: { $rule }.
setting-usual = wie üblich
setting-goals = Ziele, die ein Pilot ansagen darf
setting-extra-goals = Was zählt, wenn mehr angesagt wurden
setting-goal-places = Ziele, die angesagt werden dürfen
setting-declare-as = Ziele werden angesagt durch
setting-declare-by = Frist der Ansagen
setting-least-distance = Mindestabstand eines angesagten Ziels
setting-most-distance = Größter Abstand eines angesagten Ziels
setting-limits-from = Abstand des Ziels zählt von
setting-outside-radius = Eine Marke außerhalb des Messkreises
setting-several-marks = Von mehreren Marken zählt
setting-drops = Marker, die jeder Pilot wirft
setting-out-of-order = Marken, die in anderer Reihenfolge fielen
setting-logger-marks = Marke des Loggers, die zählt
setting-note = Bemerkung
setting-hare-launch = Der Hase startet bei
setting-hare-launch-within = Wie nah der Track kommen muss
setting-outside-limits = Eine Entfernung außerhalb der Grenzen
setting-windows = Wann jedes Gebiet gültig ist
setting-start = Die Zeit beginnt
setting-reach = Das Gebiet wird erreicht durch
setting-lower = Untergrenze des Luftraums
setting-upper = Obergrenze des Luftraums
setting-circles = Kreise und Ringe
setting-launch-is = Der Start ist Punkt
setting-least-leg = Kleinste Entfernung zweier Punkte
setting-most-leg = Größte Entfernung zweier Punkte
setting-least-time = Mindestzeit bis zum Fall der Marke
setting-least-flown = Mindestweg bis zum Fall der Marke
setting-time-from = Die Zeit beginnt
setting-reference = Die Aufgabe zählt von
setting-mark-areas = Gebiet jeder Marke
setting-most-time = Höchstzeit bis zur Marke
setting-direction = Vorgegebene Richtung
setting-without = Der Weg zählt nicht in
setting-launch-place = Alle starten bei
setting-land-by = Späteste Landung
setting-stages = Startplätze der Etappen

## Winde und Höhen
page-winds = Winde und Höhen
title-page-winds = Winde, wie gefahren, und Höhen
picture-hodograph = Winde der Fahrt { $flight } vom { $day } nach Höhe, Norden oben
picture-hodograph-note = Norden oben. Jeder Punkt ist eine Höhenschicht: seine Richtung von der Mitte zeigt, wohin Ballone getragen wurden, sein Abstand wie schnell. Die Linie verbindet die Schichten vom Boden aufwärts. Hohl: weniger als drei Ballone fuhren dort.
winds-how = Ein Wind wird den Tracks aller fahrenden Ballone angepasst, Schicht für Schicht über Grund; Autofahrten, Standzeiten und Fesselaufstiege bleiben außen vor, und Ballone, die den anderen widersprechen, zählen weniger. Eine Schicht mit weniger als drei Ballonen ist weniger sicher. Streuung: um wie viel einzelne Tracks, über etwa zwanzig Sekunden genommen, vom Wind abweichen.
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
air-late = { $logs } kam, nachdem die Luft der Fahrt { $flight } mit veröffentlichten Ergebnissen festgehalten war: mit dieser Luft gelesen, ohne die Höhen anderer zu ändern. Um die Luft aus allen Logs neu zu bestimmen, sie mit Begründung erneuern; was das ändert, wird vorher gezeigt (sandtail correct air).
matter-air-late = Log, mit früherer Luft gelesen
closes-air-late = annehmen, oder die Luft der Fahrt erneuern (sandtail correct air; in einem Ordner: air.json löschen)
air-unread = Was von der Luft festgehalten war, mit der die Logs gelesen wurden, ist beschädigt. Es zählt nicht: Die Höhen werden aus allen Logs bestimmt und können von den veröffentlichten abweichen.
matter-air-unread = festgehaltene Luft nicht lesbar
closes-air-unread = Die Veranstaltung neu exportieren; in einem Ordner: air.json zurücklegen, wie es exportiert wurde, oder löschen
compass-north = N
compass-east = O
compass-south = S
compass-west = W

## Das Zielbuch
target-closed = Die Marke fiel um { $at }, als Ziel { $target } geschlossen war. Vorerst zählt sie. Zeit oder Zielbuch berichtigen, über die Marke entscheiden, oder so annehmen.
target-moved-since = Die Marke fiel um { $fell }; Ziel { $target } wurde um { $at } versetzt. Bis dahin messen, wo es stand, oder so annehmen.
target-moved-when = Ziel { $target } wurde um { $at } versetzt, und niemand trug ein, wann diese Marke fiel. Die Zeit eintragen, oder annehmen, dass sie zu dem Platz gehört, wo das Ziel steht.
target-moved-when-many = { $pilots } Piloten: Ihr Ziel wurde versetzt, und niemand trug ein, wann ihre Marken fielen. Die Zeiten eintragen, oder annehmen, dass sie zu dem Platz gehören, wo das Ziel steht.
target-moved-since-many = { $pilots } Piloten: Ihre Marken fielen, ehe das Ziel versetzt wurde. Bis dahin messen, wo es stand, oder so annehmen.
target-moved-when-by = Ziel { $target } wurde um { $at } um { $away } versetzt, und niemand trug ein, wann diese Marke fiel. Die Zeit eintragen, oder annehmen, dass sie zu dem Platz gehört, wo das Ziel steht.
target-moved-when-by-many = { $pilots } Piloten: Ihr Ziel wurde versetzt, und niemand trug ein, wann ihre Marken fielen. Die Zeiten eintragen, oder annehmen, dass sie zu dem Platz gehören, wo das Ziel steht.
target-moved-since-by = Die Marke fiel um { $fell }, ehe Ziel { $target } um { $at } um { $away } versetzt wurde. Bis zu welchem Platz das Band reichte, ist nicht bekannt. Bis dahin messen, wo es damals stand, oder so annehmen.
target-moved-since-by-many = { $pilots } Piloten: Ihre mit dem Band gemessenen Marken fielen, ehe das Ziel versetzt wurde. Bis dahin messen, wo es damals stand, oder so annehmen.
target-stood-until = { $target }, wie es stand, bis es um { $at } versetzt wurde
target-stood-since = { $target }, wie es steht, seit es um { $at } um { $away } versetzt wurde
target-moved-after = { $target } wurde um { $away } versetzt, nachdem diese Marke eingetragen war. Eine vom Band gemessene Entfernung bleibt, wie sie gemessen wurde; eine Marke mit Koordinaten zählt bis dahin, wo das Ziel jetzt steht. Neu messen, oder annehmen, wo nur sein Platz berichtigt wurde.
target-moved-after-many = { $target } wurde um { $away } versetzt, nachdem die Marken von { $pilots } Piloten eingetragen waren. Vom Band gemessene Entfernungen bleiben, wie sie gemessen wurden; Marken mit Koordinaten zählen bis dahin, wo es jetzt steht. Neu messen, oder annehmen, wo nur sein Platz berichtigt wurde.
target-not-clear = Ziel { $target } öffnete um { $at }. Niemand trug ein, dass das Feld vorher frei von anderen Ballonen war.

## Wer teilnimmt
not-entered = Etwas ist für { $pilot } eingetragen, der an dieser Aufgabe nicht teilnimmt. Es zählt nicht. Die Nummer berichtigen, oder wann der Pilot ein- oder aussteigt.
papers-not-seen = Die Papiere des Piloten wurden nicht gesehen. Sie vor der Fahrt ansehen; die Wettbewerbsleitung entscheidet.
papers-not-seen-many = { $pilots } Piloten: Ihre Papiere wurden nicht gesehen. Sie vor der Fahrt ansehen; die Wettbewerbsleitung entscheidet.
papers-ran-out = Die Papiere des Piloten waren bei dieser Fahrt abgelaufen. Die Wettbewerbsleitung entscheidet.
papers-ran-out-many = { $pilots } Piloten: Ihre Papiere waren bei dieser Fahrt abgelaufen. Die Wettbewerbsleitung entscheidet.
waiver-not-signed = Der Pilot hat den Haftungsverzicht nicht unterschrieben. Vor der Fahrt unterschreiben lassen; die Wettbewerbsleitung entscheidet.
waiver-not-signed-many = { $pilots } Piloten haben den Haftungsverzicht nicht unterschrieben. Vor der Fahrt unterschreiben lassen; die Wettbewerbsleitung entscheidet.
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

## Preise
award-of-day = { $day }

## Ausgegebene Aufgabenblätter
fact-version = Fassung
issued-at = Fassung { $version }, ausgegeben { $at }
issued-unchanged = Seit Fassung { $version } hat sich nichts geändert; sie gilt.
issued-overtaken = Ein anderer Platz hat Version { $version } dieses Aufgabenblatts inzwischen ausgegeben. Das eben geschriebene Blatt wegwerfen und noch einmal ausgeben.
issued-prints = Das Aufgabenblatt ist Fassung { $version }, ausgegeben { $at }. Strg+P druckt es.
issued-why = Warum gibt es eine weitere Fassung? Es wird auf das Blatt gedruckt.
changed-line = Geändert: { $name }
changed-from-to = { $new } (vorher: { $old })
said-nothing = nichts

## Fenster: Bilder einer Fahrt
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
profile-basket = Korb über Grund
profile-basket-place = Korb über dem Ort, von dem die Regeln zählen
profile-altitude = Höhe über dem Meer
profile-minimum = Mindesthöhe { $limit }
profile-lower = Luftraum ab { $limit }
profile-upper = Luftraum bis { $limit }
profile-area = Wertungszone
profile-area-free = Wertungszone: keine Mindesthöhe
profile-area-contact = Wertungszone: keine Bodenberührung
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
questions-beside = Auch hier offen
questions-asked = Zu beantworten, bevor etwas amtlich wird
questions-air = In der Luft
questions-ground = Am Boden
questions-points = Punkte und Wertung
questions-after = Nach den Ergebnissen
question-floor = Wie tief darf ein Ballon beim Anflug fahren?
sentence-floor = Mindestens { $height } über { $above } innerhalb von { $within }, { $until }; Unterschreitungen kürzer als { $least-time } oder weniger tief als { $tolerance } gelten nicht.
answer-floor = { $height }; { $cost }
answer-floor-none = keine Mindesthöhe
question-launch-place = Wo dürfen Piloten starten?
sentence-launch-place = Mindestens { $least-distance } und höchstens { $most-distance } vom Ziel, in: { $area }; ist ein Pilot gelandet und wieder gestartet, zählt der Start: { $retry }.
answer-launch-place = { $least-distance } oder mehr vom Ziel; { $cost }
answer-launch-place-none = in jedem Abstand
question-launch-time = Wann dürfen Piloten starten?
sentence-launch-time = In der Startzeit der Aufgabe.
answer-launch-time = in der Startzeit; { $cost }
question-marks-time = Wann zählen Marken?
sentence-marks-time = In der Wertungszeit der Aufgabe.
answer-marks-time = in der Wertungszeit; { $cost }
question-airspace = Wo darf niemand fahren?
sentence-airspace = In gesperrten Luftraum; weniger als { $tolerance } darin geht durch.
answer-airspace = in gesperrten Luftraum; { $cost }
question-boundary = Wo müssen Piloten bleiben?
sentence-boundary = Innerhalb von { $within }.
answer-boundary = innerhalb von { $within }; { $cost }
answer-boundary-none = keine Grenze
question-night = Wie früh und wie spät darf gefahren werden?
sentence-night = Start frühestens { $before-sunrise } vor Sonnenaufgang, Landung spätestens { $after-sunset } nach Sonnenuntergang.
answer-night = { $before-sunrise } vor Sonnenaufgang; { $cost }
answer-night-none = nicht verlangt
question-declarations = Welche angesagten Ziele gelten?
sentence-declarations = Gemeint sind Ziele innerhalb von { $radius } um die angesagten Koordinaten, von mehreren: { $several }; mindestens { $least-distance } vom Ort der Ansage.
answer-declarations = innerhalb von { $radius }; zu spät: { $cost }
answer-declarations-none = kein Umkreis; zu spät: { $cost }
question-brought-up = Was kommt vor die Wettbewerbsleitung?
sentence-brought-up = Verstöße, die mindestens so wahrscheinlich sind: { $least-probability }.
answer-brought-up = ab { $least-probability }
question-contact = Darf der Korb den Boden berühren?
sentence-contact = Nicht in { $within }, { $until }.
answer-contact = nicht in { $within }: { $cost }
answer-contact-none = nirgends: { $cost }
question-entering = Wie werden Marken eingetragen?
sentence-entering = Von zwei Personen: { $twice }. Zu jeder Marke notiert: wann der Marker fiel: { $drop-time }; wer sie maß: { $measurer }. Eintragungen bis { $tolerance } auseinander stimmen überein; von zwei übereinstimmenden zählt: { $counts }.
answer-entering = von zwei Personen: { $twice }; höchstens { $tolerance } auseinander
question-logs = Wie werden Logs gelesen?
sentence-logs = Ein Marker wird bis zu { $throw } weit geworfen; eine Lücke von { $log-gap } wird genannt; Entfernungen am Track haben { $dimensions } Dimensionen.
answer-logs = ein Marker fliegt bis zu { $throw } weit
question-exact = Wie genau sind Ergebnisse?
sentence-exact = Längen mit { $decimals } Nachkommastellen, oder in Schritten von { $step }; Winkel mit { $angle-decimals } Nachkommastellen, Zeiten mit { $time-decimals }.
answer-exact = { $decimals } Nachkommastellen
question-points = Wie werden aus Ergebnissen Punkte?
sentence-points = Nach: { $method }; Punkte der Plätze, der erste zuerst: { $places }; jede Klasse für sich: { $by-class }.
answer-points = nach: { $method }
question-no-result = Was, wenn eine Marke nicht gefunden wird?
sentence-no-result = Wer ohne Ergebnis gefahren ist, erhält: { $no-result }; alle, die gefahren sind, mindestens { $show-up } Punkte.
answer-no-result = { $no-result }
question-equal = Was, wenn zwei gleich sind?
sentence-equal = Bei gleichen Ergebnissen: { $ties }; sie trennt: { $parted-by }.
answer-equal = { $ties }
question-standings = Welche Aufgaben zählen?
sentence-standings = Die besten { $best-of } Aufgaben; bei gleichen Summen: { $ties }.
answer-standings = die besten { $best-of }
answer-standings-none = alle
question-classes = Gibt es Klassen oder Mannschaften?
sentence-classes = Gesamtwertung jeder Klasse: { $by-class }. Von jeder Mannschaft zählen die besten { $team-size } Piloten; ihr Name steht in der Spalte { $team-column } der Pilotenliste.
answer-classes = Gesamtwertung jeder Klasse: { $by-class }
question-complaints = Wie lange darf man sich beschweren?
sentence-complaints = { $complaint-time } nach amtlichen Ergebnissen, und { $protest-time } nach der Antwort für einen Protest.
answer-complaints = { $complaint-time }, dann { $protest-time } für einen Protest
answer-complaints-without-protest-time = { $complaint-time }, dann ohne Frist für einen Protest
answer-waits = nicht beantwortet
cost-question = Was kostet es?
cost-no-result = Kein Ergebnis in dieser Aufgabe
cost-by-amount = Nach Ausmaß
cost-by-steps = In Stufen
cost-decided = Die Wettbewerbsleitung entscheidet jedes Mal
gap-everywhere = die ganze Fahrt
gap-ground-below = dem Boden darunter
gap-none = keine Grenze
gap-anywhere = jeder Ort
worked-under-found = Tiefster Punkt
worked-under-over = Zu tief
worked-short-found = Abstand
worked-short-over = Zu nah
worked-deep-over = Zu weit darin
worked-late-over = Zu spät
worked-each = Jedes Mal
worked-costs = Kostet
worked-half = die halbe Mindesthöhe
worked-nothing = nichts
rules-answered-of = { $answered } von { $all } Fragen beantwortet
rules-open-here = { $matters ->
    [one] 1 Punkt ist hier offen
   *[other] { $matters } Punkte sind hier offen
}
rules-keep-official = { $waiting ->
    [one] 1 hält Ergebnisse davon ab, amtlich zu werden
   *[other] { $waiting } halten Ergebnisse davon ab, amtlich zu werden
}
rules-all-answered = Alle { $all } Fragen sind beantwortet.
rule-answered-then = Beantwortet { $at } von { $by }.
rule-from-book = Wie das Regelbuch { $book } es hat; niemand hat es geändert.
answer-changes = Dies einzutragen wertet { $tasks } neu: { $penalties ->
    [one] 1 Strafe
   *[other] { $penalties } Strafen
} und { $ranks ->
    [one] 1 Platz
   *[other] { $ranks } Plätze
} ändern sich.
answer-changes-nothing = Dies einzutragen ändert kein Ergebnis.
answer-changes-unflown = Noch keine Aufgabe ist gefahren: dies einzutragen ändert kein Ergebnis.
answer-kept = { $tasks } ist amtlich und behält die Regel.
answer-same = Dies ist schon die Antwort.
answer-needed = Sagen, wie lange: ohne das kann nichts amtlich werden.

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
entry-not-noted = Die Regeln verlangen { $cell } zu jeder Marke. Enter trägt sie ohne ein.
entry-third = Schon zweimal eingetragen, von { $people }. Enter trägt Ihres zusätzlich ein.
entry-not-flown = { $pilot } ist als „nicht gefahren“ gemeldet (von { $by }). Enter trägt die Marke ein; beides bleibt dann offen.
entry-too-far = { $distance } ist weiter, als Bänder hier reichen ({ $most }). Enter trägt { $distance } ein.
entry-too-far-meant = { $distance } ist weiter, als Bänder hier reichen ({ $most }). In { $unit } wären es { $other }. Enter trägt { $distance } ein.
entry-long = { $distance } ist lang für ein Band. Enter trägt es ein.
entry-unlike-track = { $how } Ist es die Marke dieses Piloten? Enter trägt sie ein.
entry-unlike-track-meant = { $how } { $meant } Enter trägt es ein, wie es dasteht.
term-in-metres = Metern
term-in-feet = Fuß
term-in-centimetres = Zentimetern
entry-second-person = Sie tragen diese Marken als zweite Person ein.
entry-second-person-then = Was zuerst eingetragen wurde, bleibt auf allen Seiten verborgen, bis Ihr eigener Eintrag steht.
entry-once-enough = Andere haben diese Marken schon eingetragen.
entry-once-enough-then = Einmal genügt in dieser Veranstaltung: Was zuerst eingetragen wurde, gilt, und die Ergebnisse zeigen es. Noch einmal eingetragen, wird die Marke damit verglichen.
entry-all-yours = { $marks ->
    [one] Eine dieser Marken haben Sie selbst eingetragen. Jemand anders muss sie noch einmal eintragen.
   *[other] { $marks } dieser Marken haben Sie selbst eingetragen. Jemand anders muss sie noch einmal eintragen.
  }
entry-all-yours-then = F9 wechselt, wer an diesem Platz sitzt.
entry-differs = Die beiden Einträge für { $pilot } weichen ab. Ihrer bleibt; jemand wählt auf der Seite Eintragungen vergleichen.
entry-recorded = Eingetragen: Pilot { $pilot }, { $value }
keying-into = Marken von Aufgabe { $task }, der ersten mit offenen. Eine andere Aufgabe: oben, oder [Strg+Bild ab].
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

## Fenster: wie eine Wertung zustande kommt
bill-title = Wie sich Aufgabe { $task } zusammensetzt
bill-total = Wertung in Aufgabe { $task }
bill-result = Ergebnis
bill-rank = Platz { $rank } von { $field }
bill-not-under-0 = Eine Wertung ist nie unter 0
bill-nothing-found = nichts gefunden

## Fenster: ehe Ergebnisse aushängen
check-ready-provisional = Kann als vorläufig aushängen
check-ready-official = Kann amtlich werden
check-ready-final = Kann endgültig werden
check-not-ready-provisional = Kann noch nicht aushängen
check-not-ready-official = Kann noch nicht amtlich werden
check-not-ready-final = Kann noch nicht endgültig werden
check-done = { $done } von { $lines }
check-more = { $pilots } weitere
check-accounted = Von jedem Piloten ist bekannt, was er tat
check-accounted-open = { $matters ->
    [one] 1 Frage, wer gefahren ist, ist offen
   *[other] { $matters } Fragen, wer gefahren ist, sind offen
  }
proof-accounted-a = { $count } mit Ergebnis
proof-accounted-b = { $count } gefahren ohne
proof-accounted-c = { $count } nicht gefahren
proof-accounted-guests = { $count ->
    [one] 1 Gast
   *[other] { $count } Gäste
  }
check-twice = Jede Marke ist eingetragen
check-twice-open = { $matters ->
    [one] Eintragungen von 1 Marke sind offen
   *[other] Eintragungen von { $matters } Marken sind offen
  }
proof-twice-agree = { $count } stimmen überein
proof-twice-settled = { $count } wurden gewählt
proof-twice-once = { $count } einmal eingetragen
check-fit = Marken und Fahrten passen zusammen
check-fit-open = { $matters ->
    [one] 1 Sache zu Marken, Fahrten und Zielen ist offen
   *[other] { $matters } Sachen zu Marken, Fahrten und Zielen sind offen
  }
check-decided = Über jeden Verstoß ist entschieden
check-decided-open = { $matters ->
    [one] Über 1 Verstoß ist nicht entschieden
   *[other] Über { $matters } Verstöße ist nicht entschieden
  }
proof-decided-apply = { $count } bestätigt
proof-decided-waive = { $count } erlassen
proof-decided-set = { $count } mit anderem Betrag
proof-decided-impose = { $count } zusätzlich verhängt
check-logs = Jedes Log ist gelesen
check-logs-open = { $matters ->
    [one] 1 Frage zu Logs ist offen
   *[other] { $matters } Fragen zu Logs sind offen
  }
proof-logs-read = { $count ->
    [one] 1 Log
   *[other] { $count } Logs
  }
check-accepted = Nichts musste so hingenommen werden
check-accepted-open = { $matters ->
    [one] 1 Punkt ist hingenommen, wie er ist
   *[other] { $matters } Punkte sind hingenommen, wie sie sind
  }
check-accepted-one = { $whom }: { $what }, { $accepted }.
check-rules = Die Regeln sind vollständig
check-rules-open = { $matters ->
    [one] 1 Regel ist nicht beantwortet
   *[other] { $matters } Regeln sind nicht beantwortet
  }
proof-rules-answered = { $count } von der Veranstaltung beantwortet
check-desks-open = { $matters ->
    [one] 1 Frage zwischen Arbeitsplätzen ist offen
   *[other] { $matters } Fragen zwischen Arbeitsplätzen sind offen
  }
check-complaints-open = { $matters ->
    [one] 1 Beschwerde oder Protest ist offen
   *[other] { $matters } Beschwerden oder Proteste sind offen
  }
check-board-open = { $matters ->
    [one] 1 Frage zum Aushang ist offen
   *[other] { $matters } Fragen zum Aushang sind offen
  }

## Fenster: die Tafel in der Halle
hall-nothing = Noch ist nichts ausgehängt
hall-hidden = Wird hier nicht gezeigt: Marken darin warten auf den zweiten Eintrag
hall-standings = { $count ->
    [one] Stand nach Aufgabe { $tasks }
   *[other] Stand nach den Aufgaben { $tasks }
  }
hall-task = Ergebnisse der Aufgabe { $task }
hall-version = Fassung { $version }, { $at }
hall-open = { $pilots ->
    [one] 1 Pilot nicht entschieden
   *[other] { $pilots } Piloten nicht entschieden
  }
hall-ranks = Plätze { $first } bis { $last } von { $total }
hall-task-stands = Aufgabe { $task }: { $stage }
hall-task-complaints = Aufgabe { $task }: { $stage }, Beschwerden bis { $until }
hall-may-change = kann sich ändern: noch nicht entschieden
hall-next-page = nächste Seite in { $seconds } s
hall-own-page = die eigene Seite über den Code
hall-away = Der Arbeitsplatz ist seit { $since } nicht erreichbar. Dies hing zuletzt aus.

## Fenster: was für einen Piloten entschieden wird
say-why-first = Zuerst den Grund nennen: Der Pilot liest ihn.
decide-bonus = Gibt { $pilot } { $amount } Aufgabenpunkte mehr in Aufgabe { $task }.
decide-score = Setzt die Wertung von { $pilot } in Aufgabe { $task } auf { $amount }.
decide-result = Setzt das Ergebnis von { $pilot } in Aufgabe { $task } auf { $amount }.
decide-average = Gibt { $pilot } in Aufgabe { $task } das Mittel der anderen Wertungen.
choice-bonus = Gutschrift
choice-impose = Strafe
choice-score = Wertung setzen
choice-result = Ergebnis setzen
choice-average = Mittel der anderen
preview-none = Keine Wertung und kein Platz würde sich ändern.
preview-score = Wertung { $before } → { $after }
preview-rank = Platz { $before } → { $after } in der Aufgabe
preview-place = Platz { $before } → { $after } in der Gesamtwertung
preview-ranks = { $ranks ->
    [one] 1 Platz im Gesamtstand ändert sich
   *[other] { $ranks } Plätze im Gesamtstand ändern sich
  }

## Fenster: die Seite des Piloten
pilot-open = { $matters } offen
pilot-if-confirmed = falls bestätigt
pilot-hidden = verborgen
pilot-corrected = { $stage }, seither geändert
pilot-logger = Logger { $logger }
pilot-place = { $rank } von { $field }
pilot-standing = Stand
pilot-total = Summe
pilot-open-matters = Offen
pilot-matters = { $matters ->
    [0] nichts
    [one] 1 Punkt
   *[other] { $matters } Punkte
  }
holds-title = Der Pilot hat in der Hand
holds-nothing = Von dieser Aufgabe hängt noch nichts aus.
holds-version = Fassung { $version }, { $stage }: Platz { $rank }, { $score }
holds-unchanged = Daran hat sich seither nichts geändert.
holds-changed = Seither geändert: { $what }.

## Fenster: was Veröffentlichen ändert
moves-why = Warum
moves-scores = Wertungen
moves-first = unter den ersten zehn
moves-winners = neuer erster Platz

## Fenster: die Seite Veröffentlichen
page-pilots = Piloten
page-places = Orte
page-tasks = Aufgaben
page-rules = Regeln
page-marks = Marken eintragen
page-compare = Eintragungen vergleichen
page-reports = Meldungen
page-logs = Logs
page-infringements = Verstöße
page-publish = Veröffentlichen
page-complaints = Beschwerden
page-journal = Journal
stage-provisional = Offenes wird aufgeführt
stage-official = eröffnet die Beschwerdefrist
stage-final = wenn diese Frist vorüber ist
check-list = Was stimmen muss
goes-up = Das hängt aus
goes-up-board = Aushang: zu unterschreiben
goes-up-pages = Seiten der Piloten, Tafel im Saal: sofort
goes-up-slips = Arbeitsmappe, Daten, { $slips } Beiblätter
pages-say = Auf jeder Seite steht
no-complaint-time = Es läuft keine Beschwerdefrist
publish-it = Aushängen
publish-as = Als { $stage } aushängen
publish-more = Was dazu gesagt wird, und Papier
publish-event = Alle Aufgaben und der Gesamtstand.
publish-tasks = Aufgabe { $tasks } und der Stand, der auf ihr beruht.
results-crowded = { $columns ->
    [one] Für 1 Spalte ist hier kein Platz: oben ihre Aufgabe wählen, oder ein breiteres Fenster.
   *[other] Für { $columns } Spalten ist hier kein Platz: oben eine Aufgabe wählen, oder ein breiteres Fenster.
  }
close-lines-first = { $lines ->
    [one] Schließen Sie zuerst 1 Zeile; die gewählte führt hin.
   *[other] Schließen Sie zuerst { $lines } Zeilen; die gewählte führt hin.
  }
publish-away = Die Datenbank antwortet nicht. Was ausgehängt wird, steht dort: veröffentlichen, sobald sie wieder da ist.
publish-provisional-instead = Oder mit 1 als vorläufige Fassung { $version } aushängen.
stays-on-record = Bleibt aufgezeichnet, auch wenn zurückgezogen; danach käme Fassung { $version }.
not-published-lines = { $lines ->
    [one] Nicht ausgehängt: 1 Zeile ist offen
   *[other] Nicht ausgehängt: { $lines } Zeilen sind offen
  }
went-up = Hing schon aus
what-changes = Was sich ändern würde
as-version = gegen die letzte Fassung; dies wäre Fassung { $version }
first-version = Dies ist die erste Fassung
looking-ahead = Es wird ermittelt, was aushängen würde.
faults-nothing-scored = Es gibt Fehler: nichts ist gewertet. Siehe Open matters.
nothing-changes = Nichts würde sich ändern.
no-score-changes = Kein Platz und keine Wertung, die aushängen, würden sich ändern.
goes-up-first = { $count ->
    [one] Aufgabe { $tasks } hängt zum ersten Mal aus
   *[other] Die Aufgaben { $tasks } hängen zum ersten Mal aus
  }
standings-go-up-first = der Gesamtstand hängt zum ersten Mal aus
goes-up-higher = { $count ->
    [one] Aufgabe { $tasks }: { $was } → { $now }
   *[other] Aufgaben { $tasks }: { $was } → { $now }
  }
all-tasks-and-standings = Alle Aufgaben mit dem Gesamtstand

## Fenster: Preise
prizes-none = Noch keine Preise: verlesen werden die Plätze eins bis drei von allem. [Ctrl+N] fügt einen hinzu.
prizes-hint = In der Reihenfolge, in der sie vergeben werden; die Preisliste auf Veröffentlichen verliest sie.
prize-new = Ein neuer Preis
prize-record = Eintragen
prize-recorded = Eingetragen: Preis { $name }.
prize-name-hint = wie er verlesen wird
prize-needs-name = Geben Sie dem Preis einen Namen: die Preisliste verliest ihn.
prize-needs-places = Wie viele Plätze ihn bekommen, ist eine ganze Zahl ab 1.
prize-taken = Einen Preis { $name } gibt es schon: Enter in der Liste ändert ihn.
prize-why-removed = Warum wird „{ $what }“ entfernt?
prize-each = jede
prize-for-overall = der ganze Wettbewerb
prize-for-class = jede Klasse
prize-for-team = Mannschaften
prize-for-day = jeder Tag
prize-for-task = jede Aufgabe
prize-of-task = Aufgabe { $task }
prize-of-day = { $day }
prize-of-class = Klasse { $name }
prize-among = { $whom }, Klasse { $name }
prize-places = { $places ->
    [one] ein Platz
   *[other] { $places } Plätze
 }
prize-ties-shared = gleiche Plätze teilen ihn
prize-ties-counted-back = gleiche Plätze: mehr erste Plätze gehen vor
prize-place = { $place }. { $who }
prize-nobody = noch niemand
prize-would = Nach jetzigem Stand: { $who }.
prize-would-of = Nach jetzigem Stand, { $at }: { $who }.

## Fenster: offene Fragen
home-official = Steht amtlichen Ergebnissen entgegen
home-final = Steht endgültigen Ergebnissen entgegen
home-nothing = Gut zu wissen, hält nichts auf
home-open = { $open } offen. { $holding ->
    [0] Nichts steht amtlichen Ergebnissen entgegen.
    [one] 1 Frage steht amtlichen Ergebnissen entgegen.
   *[other] { $holding } Fragen stehen amtlichen Ergebnissen entgegen.
  }
home-scoring = Wird gewertet … Was offen ist, folgt.
home-no-pilots = Es sind noch keine Piloten eingetragen.
home-no-tasks = Es ist noch keine Aufgabe gestellt.
home-nothing-open = Nichts ist offen.
home-pilots = { $pilots ->
    [one] 1 Pilot
   *[other] { $pilots } Piloten
  }
home-task = Aufgabe { $task }
home-flight = Fahrt { $flight }
home-whole-event = Ganze Veranstaltung
home-accept = Warum wird dies so angenommen?
home-note = Bemerkung:
card-accounted = Verbleib der Piloten
card-twice = Eintragungen verglichen
card-fit = Marken passen zu Fahrten
card-logs = Logs
card-decided = Verstöße
card-left = { $left } von { $total } übrig
card-not-published = Nicht veröffentlicht
card-published = { $stage }, Fassung { $version }, { $at }

## Fenster: Piloten
pilot-is = { $who }: { $what }
pilot-is-not = { $who }: nicht { $what }
roster-alike = Alle in dieser Datei sind schon genauso eingetragen.
roster-read = { $pilots ->
    [one] Ein Pilot
   *[other] { $pilots } Piloten
 } aus { $file } übernommen.
pilot-new = Ein neuer Pilot
pilot-record = Eintragen
pilot-recorded = Eingetragen: { $number } { $name }
pilot-needs-number = Geben Sie eine Nummer an: eine ganze Zahl ab 1.
pilot-needs-name = Geben Sie den Namen des Piloten an.
pilot-number-taken = { $number } ist schon { $name }: [F7] auf dieser Zeile ändert sie, oder geben Sie eine andere Nummer.
roster-count = { $pilots ->
    [one] Ein Pilot.
   *[other] { $pilots } Piloten.
 }

## Fenster: lange Arbeiten
job-stopped = Angehalten; nichts halb Fertiges wurde behalten.
desk-taken-over = Von hier an trägt { $who } ein.
job-stopping = Hört nach diesem Schritt auf…

## Fenster: Journal
journal-counts = { $entries } Einträge; Plätze: { $desks }; Personen: { $people }.
journal-on-their-way = { $entries } von diesem Platz sind unterwegs.
journal-about = Über { $pilot }; [Esc] zeigt alle.
journal-not-here = Dieser Eintrag wird nicht hier zurückgenommen: Eine Veröffentlichung nehmen Sie auf der Seite Veröffentlichen zurück, und womit die Veranstaltung begann, bleibt.
journal-merged = Die Einträge des anderen Platzes sind da.
journal-archived = Geschrieben: { $file }, SHA-256 { $digest }
journal-desk = Platz { $desk }, Eintrag { $number }

## Fenster: was Seiten sagen
flight-recorded = Eingetragen: Fahrt { $flight }
choose-task = Wählen Sie zuerst eine Aufgabe.
papers-written = Geschrieben: { $files }
logs-no-flight = Legen Sie zuerst auf der Seite Aufgaben eine Fahrt an.
logs-wait = Eine andere Arbeit läuft: legen Sie die Aufzeichnungen danach noch einmal ab.
logs-no-such-pilot = diese Nummer hat kein Pilot
log-given-to = Eingetragen: { $log } gehört { $pilot }
log-given-to-nobody = Eingetragen: { $log } gehört niemandem, wie zuvor
event-recorded = Eingetragen: was die Veranstaltung über sich sagt
zone-now = In { $zone } ist es jetzt { $clock }.
zone-far = In { $zone } ist es jetzt { $clock }, nach der Sonne am Ort { $sun }: Wählen Sie die Zeitzone des Ortes.
zone-unknown = Es gibt keine Zeitzone „{ $zone }“: Wählen Sie eine der Liste.
rules-recorded = Eingetragen: { $question } { $answer }
link-waits = { $entries ->
  [one] 1 Eintrag wartet
 *[other] { $entries } Einträge warten
  } auf die { $where ->
  [file] Veranstaltungsdatei
 *[server] Datenbank
  }; Stand { $moment }
link-away = { $where ->
  [file] Veranstaltungsdatei ist fort
 *[server] Datenbank antwortet nicht
  }, Stand { $moment }
link-why = Auf diesem Rechner aufgehoben, nichts ist verloren: { $why }
link-held = { $entries ->
  [one] 1 Eintrag wartet
 *[other] { $entries } Einträge warten
  } auf die { $where ->
  [file] Veranstaltungsdatei
 *[server] Datenbank
  }
start-away = Die Datenbank dieser Veranstaltung antwortet nicht. Was hier eingetragen wurde, wartet auf diesem Computer und ist sicher. Alle paar Sekunden wird es noch einmal versucht; die Veranstaltung öffnet sich von selbst, sobald die Datenbank antwortet.
page-to-come = { $page } kommt nach vorn, sobald die Veranstaltung offen ist
start-waits = Was der Wettbewerb auf der Seite Regeln selbst beantworten muss:
rank-hidden = Platz und Punkte: verborgen, bis alle Marken der Aufgabe auch von Ihnen eingetragen sind
ranks-hidden = Bis Sie die Marken { $count ->
    [one] der Aufgabe { $tasks } eingetragen haben, die andere zuerst eintrugen, sind ihre Plätze und Punkte,
   *[other] der Aufgaben { $tasks } eingetragen haben, die andere zuerst eintrugen, sind ihre Plätze und Punkte,
  } der Gesamtstand und die Piloten dieser Marken für Sie verborgen.
results-none = Noch nicht gewertet.
results-faults = Das muss in Ordnung gebracht werden, ehe gewertet wird:
results-doubts = Was zu wissen ist, ehe Ergebnisse aushängen
results-see-publish = Siehe die Seite Veröffentlichen.
hall-shown = Die Hallentafel wird gezeigt; [Esc] darin schließt sie.
hall-screen-gone = Der zweite Bildschirm ist fort. Die Hallentafel wird wieder gezeigt, sobald er zurück ist; [B] zeigt sie in einem Fenster.
not-published-scoring = Nicht veröffentlicht: die letzten Einträge werden gerade gewertet.
not-published-look = Nicht veröffentlicht: zuerst wird angesehen, was sich geändert hat; drücken Sie noch einmal.
published-files = { $what }: { $files } Dateien in { $folder }
published-some = { $what }. { $stayed } Dateien: { $files }, in { $folder }
choose-publication = Wählen Sie zuerst eine Veröffentlichung.
choose-standing-publication = Wählen Sie eine Veröffentlichung, die gilt.
publication-written = Geschrieben nach { $folder }
complaint-recorded = Eingetragen: { $level } von { $pilot }
complaint-recorded-late = { $recorded }. { $late }
complaint-answered-so = Beantwortet: { $level } von { $pilot }, { $verdict }
complaint-no-pilot = Die Nummer { $number } hat kein Pilot.
complaint-whose = Von wem ist sie?
complaint-what = Sagen Sie, was bestritten wird.
protest-about = Wählen Sie die beantwortete Beschwerde, um die es geht.
complaint-choose-open = Wählen Sie eine offene Beschwerde.
complaint-take-answer = Nehmen Sie zuerst eine Antwort: ihre Nummer, oder ein Klick.
complaint-none = Keine Beschwerde liegt vor. [K] trägt eine ein.
complaint-unchosen = Keine Beschwerde ist gewählt
complaint-filed-at = Eingelegt { $at }
complaint-filed-by = Eingelegt { $at }, eingetragen von { $by }

## Fenster: Orte
place-new = Ein neuer Ort
place-change = { $name } ändern
place-record = Eintragen
place-where = Breite, Länge; … oder ein Kreis: … r { $radius }
place-level = etwa { $height }
place-taken = Einen Ort { $name } gibt es schon: Enter in der Liste ändert ihn.
place-recorded = Eingetragen: Ort { $name }.
place-none = Noch keine Orte. [Ctrl+N] fügt einen hinzu, [Ctrl+O] liest eine GeoJSON-Datei.
places-read = { $places ->
    [one] Ein Ort
   *[other] { $places } Orte
 } aus { $file } übernommen.
picture-task = Aufgabe { $task }, { $targets }
picture-task-alone = Aufgabe { $task }
map-places = Auf der Karte: { $places }.

## Fenster: Berichte der Beobachter
note-ground-contact = Bodenberührung
note-low = Zu niedrig
note-not-flown = Nicht gestartet
note-withdrawn = Nimmt nicht weiter teil
note-still-flying = Fährt noch
note-launch-place = Startplatz
note-other = Etwas anderes
note-declared-goal = Erklärtes Ziel
note-target-clear = Gelände frei von anderen Ballonen
note-target-opened = Ziel geöffnet
note-target-closed = Ziel geschlossen
note-target-moved = Ziel verlegt
note-page-hint = Was Offizielle sahen, welche Ziele Piloten erklärten, was mit Zielen geschah.
note-new = Ein neuer Bericht
note-change = Den Bericht ändern
note-record = Eintragen
note-value = Höhe oder Wert
note-value-goal = Erklärtes Ziel
note-value-target = Ziel
note-hint-value = nur wenn einer gesehen wurde, etwa 12 m
note-hint-goal = ein Ort oder Koordinaten
note-hint-at = Ost, Nord oder Breite, Länge
note-place-two = Zwei Koordinaten: Ost und Nord, oder Breite und Länge
note-hint-target = leer: das erste der Aufgabe
note-no-pilot = Kein Pilot hat diese Nummer
note-allowed = { $found }: erlaubt ist { $allowed }
note-needed = Es fehlt: { $allowed }
note-goal-needed = Schreiben Sie das Ziel: einen Ort, oder Koordinaten wie erklärt.
note-no-task = Legen Sie zuerst auf der Seite Aufgaben eine Aufgabe an.
note-recorded = Eingetragen: { $what }
note-recorded-pilot = Eingetragen: { $what }, Pilot { $pilot }
note-none = Noch kein Bericht. Rechts wird einer eingetragen.
why-wanted = Zuerst den Grund nennen: Er steht im Journal.
note-revert-why = Warum wird „{ $what }“ zurückgenommen?
publication-revert-why = Warum wird „{ $what }“ zurückgenommen? Der Grund wird veröffentlicht.
pilot-remove-why = Warum wird { $who } entfernt?
task-cancel-why = Warum sagt die Leitung Aufgabe { $task } ab?
task-counts-why = Warum lässt die Leitung Aufgabe { $task } wieder gelten?
task-remove-why = Warum wird Aufgabe { $task } entfernt?

## Fenster: Verstöße
pilots-together = { $pilots } Piloten zusammen
short-floor = { $depth } zu tief
short-near-floor = nahe der Mindesthöhe
short-beyond = { $what }: { $beyond } jenseits der Grenze
short-plain = { $what }
short-held = der Pilot wird gefragt, seit { $since }
short-decided = { $decision }: { $what }
short-recorded = eingetragen, wird gewertet
group-to-decide = Zu entscheiden
group-on-hold = Zurückgestellt
group-decided = Entschieden
group-let-pass = Von den Regeln durchgelassen
term-report-launch-place = ein Startplatz
fact-lowest = Tiefster Wert
fact-not-measured = Nicht gemessen
fact-minimum-of = Mindesthöhe { $limit }
fact-limit-of = Grenze { $limit }
fact-too-low = Zu tief
fact-beyond-limit = Jenseits der Grenze
fact-for = { $beyond }, für { $lasts }
fact-from-to = { $least } bis { $most }
fact-nothing-beyond = Nicht jenseits
fact-how-sure = Wie sicher
fact-charged-now = zählt vorerst
fact-not-charged = noch nicht angerechnet
fact-charged-decided = zählt, wie entschieden
fact-charged-nothing = zählt nichts, wie entschieden
fact-charged = Vorerst angerechnet
fact-height = Höhe
fact-checked = Am Boden geprüft
fact-checked-how = an der Zeit am Boden
fact-estimate = Schätzung
fact-estimate-why = keine Zeit am Boden im Log
fact-no-log = Kein Log
fact-observer = Beobachter
fact-no-report = Keine Meldung
fact-pilots = Piloten
fact-drift-lost = Drift verloren
fact-stop = Steigen änderte sich um { $change }; { $when }
observer-by = { $by }
observer-at = um { $at }
observer-says = { $parts }
infringements-open = { $count ->
    [one] einer zu entscheiden
   *[other] { $count } zu entscheiden
  }, die sichersten zuerst
infringements-none-open = Alles entschieden.
infringements-none = Kein Verstoß wurde gefunden.
infringements-not-scored = Noch nicht gewertet.
decide-what = Wählen: bestätigen, erlassen, anderer Betrag oder zurückstellen.
decide-amount = Wie viel: eine Zahl ab 0.
decide-why = { $what }. Warum?
decide-whole = { $what }: { $why }.
decide-waive = { $pilot } wird nichts angerechnet
decide-asks = { $pilot } wird zuerst gefragt; bis dahin ist nichts entschieden
decide-charge = { $pilot } werden angerechnet: { $amounts }
decide-no-result = { $pilot } verliert das Ergebnis dieser Aufgabe
decide-disqualify = { $pilot } wird disqualifiziert
decide-in-task = { $what } in Aufgabe { $task }
decide-nothing-to-confirm = Die Regeln verlangen hier nichts: einen Betrag setzen oder erlassen.
decide-was = Entschieden. [F7] ändert es oder nimmt es zurück.
decide-reverts = Nimmt die Entscheidung zu { $pilot } zurück: { $why }.
decide-reverts-why = Nimmt die Entscheidung zu { $pilot } zurück. Warum?
decide-by-kind = Diese Entscheidung nennt die Art des Verstoßes und betrifft auch andere: diesen hier neu entscheiden.
decide-gone = Dieser Verstoß wird nicht mehr gefunden. Nichts wurde eingetragen.
decide-overtaken = Inzwischen an einem anderen Tisch entschieden: { $by } hat um { $at } { $decision }. Ihre Entscheidung wurde nicht eingetragen.
decided-apply = ihn bestätigt
decided-waive = ihn erlassen
decided-set = einen anderen Betrag gesetzt
decided-hold = ihn zurückgestellt
decide-recorded = Eingetragen: Pilot { $pilot }, { $decision }
reason-apply-1 = Log ist eindeutig
reason-apply-2 = Log und Beobachter stimmen überein
reason-apply-3 = Pilot gibt es zu
reason-waive-1 = innerhalb dessen, was das Log sagen kann
reason-waive-2 = ein Offizieller hat darum gebeten
reason-waive-3 = Sicherheit des Fluges
reason-apply-report-1 = Beobachter hat es gesehen
reason-apply-report-2 = zwei Offizielle haben es gesehen
reason-apply-report-3 = Pilot gibt es zu
reason-waive-report-1 = Beobachter ist nicht sicher
reason-waive-report-2 = ein Offizieller hat darum gebeten
reason-waive-report-3 = Sicherheit des Fluges
reason-set-1 = weniger als es scheint
reason-set-2 = kein Vorteil gewonnen
reason-set-3 = Pilot war schon ermahnt
reason-hold-1 = Pilot wird gefragt
reason-hold-2 = Beobachter wird gefragt
reason-hold-3 = ein weiteres Log wird erwartet
reason-withdraw-1 = über den falschen Piloten entschieden
reason-withdraw-2 = neue Belege
reason-withdraw-3 = vertippt
choice-confirm = Bestätigen
choice-waive = Erlassen
choice-set = Anderer Betrag
choice-hold = Zurückstellen
choice-withdraw = Zurücknehmen
choice-words = In Worten…
choice-waive-aside = nichts
choice-hold-aside = Pilot fragen
choice-withdraw-aside = wie nicht entschieden
impose-title = Eine Strafe für etwas, das kein Log zeigt
impose-who = Wessen: die Nummer eines Piloten dieser Veranstaltung.
impose-whole-event = Auf die ganze Veranstaltung können nur Wettbewerbspunkte gesetzt werden.
impose-event = die ganze Veranstaltung

## Fenster: viele Entscheidungen auf einmal
many-waive = Zusammen erlassen
many-apply = Zusammen bestätigen
many-hold = Zusammen zurückstellen
many-hint = { $count ->
    [one] wenn die eine gewählte { $decision } wird; noch ist nichts eingetragen
   *[other] wenn die { $count } { $decision } werden; noch ist nichts eingetragen
  }
many-decided = schon entschieden
many-no-penalty = die Regeln verlangen nichts, das bestätigt werden könnte
many-out = { $pilot }: { $why }, ausgelassen.
many-left-out = { $pilot } ausgelassen. [Leertaste] nimmt ihn auf.
many-decisions = { $count ->
    [one] Eine Entscheidung eintragen
   *[other] { $count } Entscheidungen eintragen
  }
many-stands = { $count ->
    [one] Steht in der Entscheidung, mit Ihrem Namen.
   *[other] Steht in jeder der { $count } Entscheidungen, mit Ihrem Namen.
  }
many-reverts = { $count ->
    [one] [Strg+Z] nimmt sie zurück.
   *[other] [Strg+Z] nimmt alle { $count } zugleich zurück.
  }
many-waived = erlassen
many-applied = bestätigt
many-held = zurückgestellt
many-left = ausgelassen
many-moved = Ränge ändern sich
many-winner = neuer Sieger
many-recorded = { $count ->
    [one] Eingetragen: 1 Entscheidung. [Strg+Z] nimmt sie zurück
   *[other] Eingetragen: { $count } Entscheidungen. [Strg+Z] nimmt alle { $count } zurück
  }
many-reverted = { $count ->
    [one] Zurückgenommen: 1 Eintrag. Er bleibt im Journal
   *[other] Zurückgenommen: { $count } Einträge. Sie bleiben im Journal
  }
entry-taken-back = Zurückgenommen: { $what }. Es bleibt im Journal
entry-taken-out = Entfernt: { $what }. Die Einträge bleiben im Journal
reverted-one = Zurückgenommen: { $kind }, { $what }. Es bleibt im Journal
revert-first-settings = Mit diesen Einstellungen begann die Veranstaltung: Ändern Sie sie auf den Seiten Regeln und Preise, vor ihnen stand nichts
revert-settings-since = Die Einstellungen wurden seither wieder geändert: Nehmen Sie zuerst die spätere Änderung zurück, oder ändern Sie die Antwort auf der Seite Regeln
revert-nothing = Auf dieser Seite ist nichts eingetragen, das sich zurücknehmen ließe. Die Seite Journal nimmt jeden Eintrag zurück
revert-on-its-way = Der letzte Eintrag ist noch auf dem Weg in die Veranstaltung: noch einmal drücken
many-one-task = Zusammen entschieden wird in einer Aufgabe. Ausgelassen, aus einer anderen: { $pilots }.
many-none = Nichts ist gewählt, das so entschieden werden könnte.

## Fenster: Eintragungen vergleichen
compare-differ = Zwei Eintragungen weichen ab
compare-unfit = Marke und Fahrt passen nicht
compare-chosen = Entschieden
compare-count = { $count ->
    [one] eine zu wählen
   *[other] { $count } zu wählen
  }
compare-none = Keine Eintragungen weichen ab, und alle Marken passen zu den Fahrten.
compare-apart = Aufgabe { $task } · { $gap } auseinander
compare-one-none = Aufgabe { $task } · eine sagt, kein Marker gefunden
compare-differ-in = Aufgabe { $task } · verschieden: { $columns }
compare-swapped = Aufgabe { $task } · vielleicht vertauscht
compare-unfit-second = Aufgabe { $task } · passt nicht zum Flug
compare-chosen-second = { $what }, { $by } { $at }
compare-of = Aufgabe { $task }, Marke { $mark }
compare-entry-holds = Die Eintragung, die gilt
compare-entry-1 = Erste Eintragung
compare-entry-2 = Zweite Eintragung
compare-entry-3 = Dritte Eintragung
compare-entry-other = Weitere Eintragung
compare-swap = Die beiden Marken tauschen
compare-meant = So nehmen, wie es passt
compare-accept = So annehmen, wie es ist
compare-as-entered = wie eingetragen
compare-no-mark = keine Marke gefunden
compare-bearing = Peilung
compare-from = Von
compare-note = Bemerkung
compare-tape = Maßband von { $from }
compare-the-target = dem Ziel
compare-speaks = Was wofür spricht
compare-not-worth = Ränge und Punkte stehen hier nicht: welche Eintragung stimmt, hängt nicht davon ab, was sie wert ist.
compare-take = Wählen: [1] oder [2] gilt, [0] ein anderer Wert.
compare-take-unfit = Wählen: [1] oder [2].
compare-holds = { $which } gilt: { $what }
compare-other-holds = Ein anderer Wert gilt: { $what }
compare-other-what = Welcher Wert gilt?
compare-swaps = Die Marken von { $pilot } und { $other } werden getauscht
compare-takes-meant = Die Marke von { $pilot } wird genommen, wie sie passt
compare-marks = { $marks ->
    [one] 1 Marke
   *[other] { $marks } Marken
  }
compare-takes-all = { $marks } Marken eines Stapels werden so genommen, wie sie passen
compare-accepts-all = { $marks } Marken eines Stapels werden angenommen, wie sie sind
compare-accepts = Die Marke von { $pilot } wird angenommen, wie sie ist
compare-recorded = Festgehalten für Pilot { $pilot }: { $what }
speaks-digits = Verschieden: { $one } und { $other }.
speaks-no-log = Für diesen Piloten zählt kein Log: es kann nichts sagen.
speaks-no-place = Die Eintragungen haben keinen Ort auf der Karte: das Log kann nichts sagen.
speaks-log-for = Das Log spricht für Eintragung { $number }: die andere liegt { $away } von der Spur, weiter als ein Wurf trägt.
speaks-log-against = Das Log spricht für keine: die nächste liegt { $away } von der Spur, weiter als ein Wurf trägt.
speaks-log-both = Das Log kann nichts sagen: alle passen zur Spur, die auf ± { $sigma } bekannt ist.
speaks-note = Eintragung { $number } sagt: { $note }
speaks-own = Eintragung { $number } stammt von Ihnen: jemand anders sollte wählen.
reason-settle-1 = Feldblatt
reason-settle-2 = nachgemessen
reason-settle-3 = Team wurde gefragt
reason-unfit-1 = Feldblatt zeigt beide Nummern
reason-unfit-2 = Team wurde gefragt
reason-unfit-3 = Log ist nicht von diesem Piloten

## Aufgaben durchgesehen
looked-over = Für Sie durchgesehen
looked-light = Die Startzeit beginnt nach Sonnenaufgang ({ $sunrise }).
looked-times = Marken zählen bis nach dem Ende der Startzeit.
looked-marks-end-early = Marken zählen nur bis { $marks }, die Startzeit endet erst um { $launch }. Die Zeiten prüfen.
looked-marks-begin-early = Marken zählen ab { $marks }, vor Beginn der Startzeit um { $launch }. Die Zeiten prüfen.
looked-inside = Ziel und Wertungsfläche liegen innerhalb von { $within }.
looked-outside = { $place } liegt nicht innerhalb von { $within }. Den Ort oder die Grenze prüfen.
looked-airspace = Kein gesperrter Luftraum im Umkreis von { $far }.
looked-airspace-near = Der gesperrte Luftraum { $place } liegt { $away } vom Ziel. Beim Briefing ansagen.
looked-defers = Nur eine Planungshilfe. Ob gefahren wird, entscheiden Wettbewerbsleitung, Sicherheitsbeauftragte und jeder Pilot.
period-backwards = { $what } endet, bevor sie beginnt: { $from } bis { $to }. Die frühere Zeit zuerst schreiben.
period-unread = „{ $found }“ ist kein Zeitraum. Schreiben Sie 645-730 oder 06:45 to 07:30.
task-copied = Aufgabe { $task }, neu. Aus Aufgabe { $last } übernommen; ändern, was anders ist.
task-record = Aufgabe eintragen
task-leave = lassen, wie es war
task-begun = Aufgabe { $task }, neu.
place-corners = { $corners } Ecken
task-recorded = Eingetragen: Aufgabe { $task }
task-is-cancelled = Eingetragen: Aufgabe { $task } ist abgesagt
task-counts-again = Eingetragen: Aufgabe { $task } zählt wieder
task-radius-metric = etwa 100 m; weitere Marker nach dem Logger
task-radius-imperial = etwa 330 ft; weitere Marker nach dem Logger

board-hidden = Was auf Papier steht, zeigt Marken, die Sie zuerst ungesehen eintragen müssen.
archive-hidden = Das Archiv enthält Marken, die Sie zuerst ungesehen eintragen müssen.
decide-title = Für diesen Piloten entscheiden
how-much = wie viel
try-waits = Was sich ändert, wird ausgerechnet…
slip-made = Zettel zum Drucken: { $file }
slip-hidden = Noch kein Zettel: Einige Marken werden ungesehen nochmals eingegeben, und seine Ränge verrieten sie
slip-print = Zettel drucken
story-title = Alles über { $pilot }, Neuestes zuerst
no-such-finding = Wählen Sie zuerst eine Zeile über einen Verstoß; dann kann er angehalten werden.
protest-until = Zeit für einen Protest gegen diese Antwort: bis { $until }.
protest-against = Gegen die Antwort auf Beschwerde { $number } von { $pilot }.
