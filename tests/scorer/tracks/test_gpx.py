"""GPX facts are those of the GPX 1.0 and 1.1 schemas (topografix.com/GPX/1/0, /GPX/1/1)."""

import codecs
from datetime import UTC, date

import gpxpy
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scorer.errors import InputError
from scorer.tracks.fixes import UERE_M
from scorer.tracks.gpx import read_gpx
from scorer.tracks.gpx_points import plain_points
from scorer.tracks.gpx_xml import GpxDocument
from scorer.tracks.read import read_log
from scorer.tracks.track import Datum
from tests.helpers import SHARED, shared_file
from tests.scorer.tracks.logs import START_S, blob, gpx, kinds, shared_blob, trkpt

REAL = sorted(path.name for path in (SHARED / "gpx" / "gpxpy").glob("*.gpx"))
POINTS = "".join(trkpt(i) for i in range(5))


def test_a_track_point_gives_time_place_and_altitude():
    track = read_gpx(blob("a.gpx", gpx(POINTS)))

    np.testing.assert_array_equal(track.time_s - START_S, np.arange(5))
    assert track.lat_deg[0] == 41.5
    assert track.lon_deg[0] == -3.2
    np.testing.assert_array_equal(track.gnss_alt_m, 640.5 + np.arange(5))
    assert track.gnss_datum == Datum.UNKNOWN
    assert np.isnan(track.pressure_alt_m).all()
    assert dict(track.headers) == {"recorder": "invented", "track": "Morning flight"}


@pytest.mark.parametrize("version", ["1.0", "1.1"])
@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le"])
def test_both_versions_and_all_common_encodings_are_read(version, coding):
    text = gpx(POINTS, version=version, before="<metadata/>")
    if coding == "utf-16-le":
        data = codecs.BOM_UTF16_LE + text.encode(coding)
    else:
        data = text.encode(coding)

    assert len(read_log(blob("a.gpx", data))) == 5


def test_a_declared_8_bit_encoding_is_read():
    head = '<?xml version="1.0" encoding="ISO-8859-1"?>'
    text = gpx(
        POINTS,
        before="<metadata><author><name>Jürgen</name></author></metadata>",
        head=head,
    )

    track = read_gpx(blob("a.gpx", text.encode("latin-1")))

    assert track.headers["pilot"] == "Jürgen"


def test_dilution_satellites_and_kind_of_fix_are_read():
    points = (
        trkpt(0, inner="<fix>3d</fix><sat>9</sat><hdop>1.5</hdop>")
        + trkpt(1, inner="<fix>2d</fix><sat>3</sat>")
        + trkpt(2, inner="<fix>none</fix>")
    )

    track = read_gpx(blob("a.gpx", gpx(points)))

    assert track.valid_3d.tolist() == [True, False]
    np.testing.assert_array_equal(track.satellites, [9, 3])
    np.testing.assert_array_equal(track.accuracy_m, [1.5 * UERE_M, np.nan])
    assert kinds(track) == {"no-position": 1}


def test_points_without_altitude_are_not_three_dimensional():
    points = '<trkpt lat="41.5" lon="-3.2"><time>2026-09-12T06:41:12Z</time></trkpt>'

    track = read_gpx(blob("a.gpx", gpx(points)))

    assert track.valid_3d.tolist() == [False]
    assert np.isnan(track.gnss_alt_m).all()


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("2026-09-12T06:41:12Z", 0),
        ("2026-09-12T06:41:12.5Z", 0.5),
        ("2026-09-12T06:41:12.123456789Z", 0.123456789),
        ("2026-09-12T08:41:12+02:00", 0),
        ("2026-09-12T08:41:12.250+02:00", 0.25),
        ("2026-09-12t06:41:12z", 0),
        (" 2026-09-12T06:41:12Z\n", 0),
    ],
)
def test_times_are_read_in_every_form_of_the_standard(written, expected):
    point = f'<trkpt lat="41.5" lon="-3.2"><ele>640</ele><time>{written}</time></trkpt>'

    track = read_gpx(blob("a.gpx", gpx(point)))

    assert track.time_s[0] - START_S == pytest.approx(expected, abs=1e-6)


def test_a_time_without_a_zone_is_utc_and_recorded():
    point = '<trkpt lat="41.5" lon="-3.2"><time>2026-09-12T06:41:12</time></trkpt>'

    track = read_gpx(blob("a.gpx", gpx(point)))

    assert track.start_s == START_S
    assert kinds(track) == {"no-zone": 1}


def test_times_and_heights_within_extensions_are_not_those_of_the_point():
    inner = (
        "<extensions><time>1999-01-01T00:00:00Z</time><x:ele xmlns:x='u'>9</x:ele>"
        "<ele>7</ele></extensions>"
    )
    points = (
        f'<trkpt lat="41.5" lon="-3.2">{inner}<ele>640</ele>'
        "<time>2026-09-12T06:41:12Z</time></trkpt>"
    )

    track = read_gpx(blob("a.gpx", gpx(points)))

    assert track.start_s == START_S
    assert track.gnss_alt_m.tolist() == [640]


def test_waypoints_are_marks():
    before = (
        '<wpt lat="41.51" lon="-3.19"><ele>700.5</ele><time>2026-09-12T06:41:14Z</time>'
        "<name>Mark  1</name></wpt>"
        '<wpt lat="95" lon="-3.19"><time>2026-09-12T06:41:15Z</time></wpt>'
        '<wpt lat="41.51" lon="-3.19"><name>no time</name></wpt>'
    )

    track = read_gpx(blob("a.gpx", gpx(POINTS, before=before)))

    first, second = track.marks
    assert (first.time_s, first.label) == (START_S + 2, "Mark 1")
    assert (first.lat_deg, first.lon_deg, first.alt_m) == (41.51, -3.19, 700.5)
    assert second.lat_deg == track.lat_deg[3]  # no place on earth: that of the fix
    assert kinds(track) == {"mark-without-time": 1}


def test_a_track_without_times_is_no_evidence_of_time():
    points = '<trkpt lat="41.5" lon="-3.2"><ele>640</ele></trkpt>\n' * 3

    with pytest.raises(
        InputError, match=r"a.gpx, line 4: found a track of 3 points without"
    ):
        read_gpx(blob("a.gpx", gpx(points)))


def test_single_points_without_time_are_left_out_and_recorded():
    points = POINTS + '<trkpt lat="41.5" lon="-3.2"><ele>640</ele></trkpt>\n'

    track = read_gpx(blob("a.gpx", gpx(points)))

    assert len(track) == 5
    assert track.repairs[0].kind == "no-time"
    assert track.repairs[0].first_line == 9


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        ('<rte><rtept lat="1" lon="2"/></rte>', "a route of 1 points"),
        ('<wpt lat="1" lon="2"/>', "1 waypoints and no track"),
        ("", "no fix"),
    ],
)
def test_a_file_without_a_track_is_refused_with_the_reason(body, reason):
    with pytest.raises(InputError, match=reason):
        read_gpx(blob("a.gpx", f'<gpx version="1.1">{body}</gpx>'))


def test_other_xml_is_refused():
    with pytest.raises(InputError, match="XML of a <kml>"):
        read_gpx(blob("a.gpx", "<kml><a/></kml>"))


ENTITIES = """<?xml version="1.0"?>
<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;"><!ENTITY d SYSTEM "file:///etc/passwd">]>
"""


@pytest.mark.parametrize("entity", ["a", "c", "d"])
def test_document_types_and_so_entities_are_refused(entity):
    text = gpx(POINTS, head=ENTITIES, before=f"<desc>&{entity};</desc>")

    with pytest.raises(InputError, match=r"line 2: found a document type declaration"):
        read_gpx(blob("a.gpx", text))


def test_an_external_document_type_is_refused():
    head = '<!DOCTYPE gpx SYSTEM "http://127.0.0.1:9/x.dtd">'

    with pytest.raises(InputError, match="DOCTYPE"):
        read_gpx(blob("a.gpx", gpx(POINTS, head=head)))


def test_a_file_cut_off_keeps_what_stood_before_and_says_so():
    text = gpx(POINTS)
    cut = text[: text.index("<trkpt", text.index(trkpt(3))) + 20]

    track = read_gpx(blob("a.gpx", cut))

    assert len(track) == 3
    (repair,) = track.repairs
    assert (repair.kind, repair.first_line) == ("broken-off", 7)


def test_text_that_is_no_xml_is_refused_with_its_line():
    with pytest.raises(
        InputError, match=r"a\.gpx, line 2: found a file that is no XML"
    ):
        read_gpx(blob("a.gpx", "<gpx>\n<<<"))


@pytest.mark.parametrize("value", ["nan", "inf", "", "x", "1e400", "91", "-181"])
def test_a_point_without_a_place_on_earth_is_left_out(value):
    point = (
        f'<trkpt lat="{value}" lon="{value}"><time>2026-09-12T06:41:11Z</time></trkpt>'
    )

    track = read_gpx(blob("a.gpx", gpx(point + POINTS)))

    assert len(track) == 5
    assert kinds(track) == {"bad-position": 1}


@pytest.mark.parametrize("value", ["nan", "inf", "", "x", "-1e999"])
def test_an_altitude_that_is_no_number_is_absent(value):
    point = f'<trkpt lat="41" lon="-3"><ele>{value}</ele><time>2026-09-12T06:41:11Z</time></trkpt>'

    assert np.isnan(read_gpx(blob("a.gpx", gpx(point + POINTS))).gnss_alt_m[0])


@pytest.mark.parametrize("deep", ["<a>" * 101, "<a>" * 101 + "</a>" * 101])
def test_deep_nesting_is_refused(deep):
    """Nesting costs the parser memory: 120 MB of `<a>` once took 5 GB."""
    before = blob("a.gpx", gpx(POINTS, before=deep))
    within = blob("a.gpx", gpx(trkpt(0, inner=deep) + POINTS))

    for log in (before, within):
        with pytest.raises(InputError, match="at most 100 levels"):
            read_gpx(log)


def test_tracks_in_the_wrong_order_are_put_right():
    one = "".join(trkpt(i) for i in range(3))
    two = "".join(trkpt(i) for i in range(10, 13))
    text = gpx(f"{two}</trkseg></trk><trk><trkseg>{one}")

    track = read_gpx(blob("a.gpx", text))

    assert (track.time_s - START_S).tolist() == [0, 1, 2, 10, 11, 12]
    assert kinds(track) == {"parts-reordered": 1}


def test_a_week_number_rollover_is_put_right_with_its_marks():
    before = '<wpt lat="41" lon="-3"><time>2007-01-27T06:41:13Z</time></wpt>'
    text = gpx(POINTS.replace("2026-09-12", "2007-01-27"), before=before)

    track = read_gpx(blob("a.gpx", text), near_date=date(2026, 9, 12))

    assert track.start_s == START_S
    assert track.marks[0].time_s == START_S + 1


PIECES = [
    trkpt(0),
    trkpt(
        1, inner="<extensions><a:ele xmlns:a='u'>1</a:ele><hdop>3</hdop></extensions>"
    ),
    trkpt(2, inner="<hdop>2.5</hdop><sat>7</sat><fix>2d</fix><name>&amp;x</name>"),
    trkpt(3).replace("<ele>", "<!-- <ele>1</ele> --><ele>"),
    trkpt(4).replace("><ele>", "><ele>\n ").replace("</ele>", " </ele>"),
    trkpt(5).replace('"', "'"),
    '<trkpt lon="-3.2" lat="41.5" ><time>2026-09-12T06:42:00Z</time></trkpt>',
    '<trkpt lat="41.5" lon="-3.2"/>',
    '<trkpt lat="41.5" lon="-3.2" ><ele/><time>2026-09-12T06:43:00.25Z</time></trkpt>',
    '<trkpt lat="4.15e1" lon="-3.2000000000000000001"><time>x</time></trkpt>',
    '<trkpt\nlat="41.5"\nlon="-3.2"><ele>1</ele><ele>2</ele></trkpt>',
    '<trkpt lat="41.5" lon="-3.2" x="a>b"><time a="b">2026-09-12T06:44:00Z</time></trkpt>',
    "<trkpt lat='41.5' lon=\"-3.2\"><name><![CDATA[<trkpt>]]></name></trkpt>",
    "</trkseg><trkseg>",
    "</trkseg></trk>\n<trk><name>second</name><trkseg>",
    "<!-- <trkpt lat='1' lon='2'></trkpt> -->",
    "<!-- <trkpt> x < -->",
    "</trkseg></trk><wpt lat='1' lon='2'><time>2026-09-12T06:44:00Z</time></wpt><trk><trkseg>",
    "<g:trkpt xmlns:g='u' lat='41' lon='-3'><time>2026-09-12T06:45:00Z</time></g:trkpt>",
    "<extensions><trkpt lat='41' lon='-3'></trkpt></extensions>",
]


@given(st.lists(st.sampled_from(PIECES), min_size=1, max_size=6))
@settings(max_examples=150)
def test_the_fast_way_gives_what_the_parser_gives(pieces):
    data = gpx("".join(pieces)).encode()
    expected = GpxDocument(data)

    fast = plain_points(data)

    if fast is None:
        return
    points, rest = fast
    slow = expected.points()
    for name in ("line", "lat_deg", "lon_deg", "ele_m", "time_s", "zoneless", "hdop"):
        np.testing.assert_array_equal(getattr(points, name), getattr(slow, name), name)
    for name in ("satellites", "no_fix", "flat"):
        np.testing.assert_array_equal(getattr(points, name), getattr(slow, name), name)
    np.testing.assert_array_equal(
        np.diff(points.part) != 0, np.diff(slow.part) != 0, "part"
    )
    other = GpxDocument(rest)
    assert not other.track
    assert other.headers == expected.headers
    assert other.waypoints == expected.waypoints


def test_ordinary_files_go_the_fast_way():
    assert plain_points(gpx(POINTS).encode()) is not None
    assert plain_points(gpx("".join(PIECES[:2])).encode()) is None  # a prefixed ele


def stamp(moment):
    return (moment if moment.tzinfo else moment.replace(tzinfo=UTC)).timestamp()


def gpxpy_points(data):
    parsed = gpxpy.parse(data)
    return [p for p in parsed.walk(only_points=True) if p.time is not None]


@pytest.mark.parametrize("name", REAL)
def test_agrees_with_gpxpy_on_real_files(name):
    log = shared_blob(shared_file(f"gpx/gpxpy/{name}"))
    expected = gpxpy_points(log.data)
    if not expected or stamp(expected[0].time) < 0:
        with pytest.raises(InputError):
            read_log(log)
        return

    track = read_log(log)

    points = {round(stamp(p.time), 3): p for p in expected}
    left_out = sum(kinds(track).get(k, 0) for k in ("duplicate-time", "backward-time"))
    assert len(track) + left_out == len(expected)
    for i, moment in enumerate(track.time_s.round(3).tolist()):
        point = points[moment]
        assert track.lat_deg[i] == point.latitude
        assert track.lon_deg[i] == point.longitude
        got = track.gnss_alt_m[i]
        assert got == point.elevation or (np.isnan(got) and not point.elevation)


def test_agrees_with_gpxpy_on_an_invented_file():
    data = gpx("".join(trkpt(i, inner="<hdop>1.25</hdop>") for i in range(300)))

    track = read_gpx(blob("a.gpx", data))

    points = gpxpy_points(data)
    assert track.lat_deg.tolist() == [p.latitude for p in points]
    assert track.lon_deg.tolist() == [p.longitude for p in points]
    assert track.gnss_alt_m.tolist() == [p.elevation for p in points]
    assert track.time_s.tolist() == [p.time.timestamp() for p in points]
    assert (track.accuracy_m / UERE_M).tolist() == [
        p.horizontal_dilution for p in points
    ]
