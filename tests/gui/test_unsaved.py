"""Each window keeps its own unsaved text; what one that died has left comes back."""

from gui.unsaved import Unsaved


def test_two_windows_keep_their_texts_apart(tmp_path):
    one, two = Unsaved(tmp_path, "e"), Unsaved(tmp_path, "e")
    one.keep("keying", {"pilot": "4"})
    two.keep("keying", {"pilot": "7"})

    assert one.of("keying") == {"pilot": "4"}
    assert two.of("keying") == {"pilot": "7"}
    one.close()
    two.close()


def test_what_both_left_comes_back_one_after_the_other(tmp_path):
    one, two = Unsaved(tmp_path, "e"), Unsaved(tmp_path, "e")
    one.keep("keying", {"pilot": "4"})
    two.keep("keying", {"pilot": "7"})
    two.keep("note", {"text": "wind"})
    one.close()
    two.close()

    third = Unsaved(tmp_path, "e")
    assert third.of("keying") == {"pilot": "4"}
    assert third.of("note") == {"text": "wind"}
    third.keep("keying", {})
    third.close()
    fourth = Unsaved(tmp_path, "e")
    assert fourth.of("keying") == {"pilot": "7"}
    assert fourth.of("note") == {"text": "wind"}
    fourth.close()


def test_a_window_that_lives_keeps_its_text_to_itself(tmp_path):
    one = Unsaved(tmp_path, "e")
    one.keep("keying", {"pilot": "4"})
    two = Unsaved(tmp_path, "e")

    assert two.of("keying") == {}
    two.close()
    assert one.of("keying") == {"pilot": "4"}
    one.close()


def test_nothing_is_left_where_nothing_stands(tmp_path):
    one = Unsaved(tmp_path, "e")
    one.keep("keying", {"pilot": "4"})
    one.keep("keying", {"pilot": " "})
    one.close()
    assert not list(tmp_path.glob("*.json"))
