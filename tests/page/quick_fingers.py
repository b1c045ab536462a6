"""What happens to an entry when the next tap comes before it is read: nothing is lost, and nothing
is said of a value that its owner did not see."""

import json

from using import Using

BOARD = "fjord-skiff"

# As a phone does it: the taps follow in one go, and no tap takes the focus from an entry.
FINGERS = """
    const entry = (path) => document.querySelector(`#groups [data-path="${path}"]`);
    const put = (path, value) => {
      openTo(entry(path));
      entry(path).focus({preventScroll: true});
      entry(path).value = value;
      entry(path).dispatchEvent(new Event('input', {bubbles: true}));
    };
    const leave = (path) => entry(path).dispatchEvent(new Event('change', {bubbles: true}));
    const box = (name) => [...document.querySelectorAll('#groups > details')].find((one) =>
        one.querySelector('b').textContent.startsWith(name));
    const tap = (name, words) => [...box(name).querySelectorAll('button')].find((one) =>
        one.textContent.startsWith(words)).click();
    const measured = (name) => tap(name, 'I measured or read off');
    """
WRONG = "[...document.querySelectorAll('#groups [aria-invalid=true]')].map(" \
    "(one) => `${one.dataset.path}: ${one.value}`).join()"


class QuickFingers(Using):
    KEPT = "JSON.parse(localStorage.getItem('thole.work')).text"

    def at_once(self, script):
        return self.js(FINGERS + script)

    def quiet(self):
        """Nothing is on its way any more, and what there is is stored."""
        self.js("window.isQuiet = false; inTurn(() => { keepNow(); window.isQuiet = true; });")
        self.until("window.isQuiet")

    def now(self):
        self.quiet()
        return self.js(f"return {self.KEPT}")

    def notices(self):
        return self.js("return document.getElementById('notices').textContent")

    def three_gears(self):
        self.blank()
        self.at_once("put('gear.0.on_board.side', 'starboard'); leave('gear.0.on_board.side');")
        for k in (1, 2):
            self.quiet()  # the list of another setup has other buttons
            self.at_once("tap('Gear 1', 'Another like it');")
            self.until(f"document.querySelector('[data-path=\"gear.{k}.ball\"]')")
        self.quiet()

    def test_two_entries_close_together_are_both_taken(self):
        self.begin(BOARD)
        self.at_once("""put('gear.0.boom_length', '500 mm'); leave('gear.0.boom_length');
            put('gear.0.mass', '5 kg'); leave('gear.0.mass');""")
        text = self.now()
        self.assertIn("boom_length: 500 mm", text)
        self.assertIn("mass: 5 kg", text)

    def test_a_group_is_marked_with_the_value_that_was_just_typed(self):
        self.blank()
        self.at_once("put('gear.0.ball', '8 lb'); leave('gear.0.ball'); measured('Gear');")
        self.assertIn("ball: {is: 8 lb, known: measured}", self.now())

    def test_no_mark_goes_to_the_value_behind_an_entry_that_is_refused(self):
        self.blank()
        self.at_once("put('gear.0.ball', 'heavy'); measured('Gear');")
        text = self.now()
        self.assertIn("ball: {is: 10 lb, known: assumed}", text)
        self.assertIn("mass: {is: 13 lb, known: measured}", text)
        self.assertIn("look at it, then tap again", self.notices())
        self.assertEqual(self.js(f"return {WRONG}"), "gear.0.ball: heavy")

    def test_a_tick_is_of_the_value_that_was_just_typed_and_of_no_other(self):
        self.blank()
        mark = """entry('gear.0.ball').parentElement.querySelector('.mark').click();"""
        self.at_once("put('gear.0.ball', '8 lb');" + mark)
        self.assertIn("ball: {is: 8 lb, known: measured}", self.now())
        self.at_once("put('gear.0.mass', 'light');" + mark.replace("ball", "mass"))
        self.assertIn("mass: {is: 13 lb, known: assumed}", self.now())
        self.assertEqual(self.js(f"return {WRONG}"), "gear.0.mass: light")

    def test_no_value_folded_away_is_marked(self):
        self.blank()
        text = self.text().replace("    ball:", "    weak_link: {is: 60 lbf, known: assumed}\n    ball:")
        fold = "entry('gear.0.weak_link').closest('#groups details details')"
        missing = self.at_once(f"return parseInt({fold}.firstElementChild.textContent)")
        self.js("byId('text').value = arguments[0]; byId('read-text').click()", text)
        self.until("document.querySelector('[data-path=\"gear.0.weak_link\"]').value")
        self.assertTrue(self.at_once(f"return {fold}.open"))
        self.assertEqual(self.at_once(f"return {fold}.firstElementChild.textContent"),
                         f"{missing - 1} not given, if you know them")
        self.at_once(f"{fold}.open = false; measured('Gear');")
        text = self.now()
        self.assertIn("weak_link: {is: 60 lbf, known: assumed}", text)
        self.assertIn("ball: {is: 10 lb, known: measured}", text)

    def test_what_was_refused_of_other_items_stays_when_one_is_removed(self):
        self.three_gears()
        self.at_once("""for (const k of [0, 1, 2]) {
            put(`gear.${k}.ball`, `heavy ${k}`); leave(`gear.${k}.ball`); }""")
        self.quiet()
        self.at_once("tap('Gear 2', 'Remove');")
        self.quiet()
        self.assertEqual(self.js(f"return {WRONG}"), "gear.0.ball: heavy 0,gear.1.ball: heavy 2")

    def test_a_double_tap_removes_one(self):
        self.three_gears()
        self.at_once("tap('Gear 1', 'Remove'); tap('Gear 1', 'Remove');")
        self.quiet()
        self.assertEqual(self.js("return [...document.querySelectorAll('#groups b')].filter("
                                 "(one) => one.textContent.startsWith('Gear')).length"), 2)

    def test_another_is_added_with_the_entry_that_was_just_typed(self):
        self.blank()
        self.at_once("put('gear.0.ball', '8 lb'); tap('Gear', 'Another like it');")
        self.quiet()
        self.assertEqual(self.field("gear.1.ball"), "8 lb")

    def test_undo_and_redo_count_the_entry_that_was_just_typed(self):
        self.begin(BOARD)
        before = self.text()
        self.at_once("put('gear.0.boom_length', '500 mm'); byId('undo').disabled = false;"
                     "byId('undo').click();")
        self.assertEqual(self.now(), before)
        self.at_once("byId('redo').click();")
        self.assertIn("boom_length: 500 mm", self.now())

    def test_what_redo_takes_back_it_says(self):
        self.begin(BOARD)
        self.at_once("put('gear.0.boom_length', '500 mm'); leave('gear.0.boom_length');")
        self.quiet()
        self.at_once("byId('undo').click();")
        self.quiet()
        self.at_once("put('gear.0.mass', 'light'); leave('gear.0.mass');")
        self.quiet()
        self.at_once("byId('redo').click();")
        self.assertIn("boom_length: 500 mm", self.now())
        self.assertIn("Taken back, it did not fit: Mass of the downrigger: light", self.notices())

    def test_undo_takes_back_the_last_refused_of_several(self):
        self.begin(BOARD)
        for path, value in (("ball", "heavy"), ("mass", "light"), ("ball", "heavier")):
            self.at_once(f"put('gear.0.{path}', '{value}'); leave('gear.0.{path}');")
            self.quiet()
        self.at_once("byId('undo').click();")
        self.quiet()
        self.assertEqual(self.js(f"return {WRONG}"), "gear.0.mass: light")

    def test_an_entry_is_typed_on_while_the_list_is_made_anew(self):
        self.blank()
        self.at_once("""put('gear.0.name', 'Port rigger'); leave('gear.0.name');
            put('gear.0.ball', '8 l');""")
        self.until("[...document.querySelectorAll('#groups b')].some("
                   "(one) => one.textContent.includes('Port rigger'))")
        self.assertEqual(self.field("gear.0.ball"), "8 l")
        self.at_once("put('gear.0.ball', '8 lb'); leave('gear.0.ball');")
        self.assertIn("ball: {is: 8 lb, known: assumed}", self.now())
        self.verdict()

    def test_the_saved_file_holds_the_entry_that_was_just_typed(self):
        self.needs_names_of_the_script()
        self.begin(BOARD)
        self.js("byId('text').value = setup.text.replace('title:', '# quick\\ntitle:');"
                "byId('read-text').click(); setup.name = 'quick.yaml';")
        self.quiet()
        self.js("setup.name = 'quick.yaml'")
        self.at_once("put('gear.0.boom_length', '500 mm'); byId('save').click();")
        self.assertIn("boom_length: 500 mm", self.saved("quick.yaml").read_text())

    def test_a_ring_taken_hold_of_keeps_the_entry_that_was_just_typed(self):
        self.begin(BOARD)
        self.at_once("""put('gear.0.boom_length', '500 mm');
            addEventListener('pointerdown', () => leave('gear.0.boom_length'),
                {capture: true, once: true});""")
        ring = self.handle()
        self.drag(ring, 30, "mouse")
        self.until(f"{self.KEPT}.includes('boom_length: 500 mm')")
        text = self.now()
        self.assertIn("boom_length: 500 mm", text)
        self.assertNotEqual(self.value_of(ring), ring["value"])
        self.verdict()

    # ---- while something else is on its way ------------------------------------------------------

    def test_nothing_lands_on_another_item_while_one_is_removed(self):
        self.three_gears()
        for k, name in enumerate(("Alpha", "Beta", "Gamma")):
            self.at_once(f"put('gear.{k}.name', '{name}'); leave('gear.{k}.name');")
        before = self.now()
        mark = "entry('gear.1.ball').parentElement.querySelector('.mark').click();"
        remove = "tap('Gear 1', 'Remove');"
        beta = "measured('Gear 2');"
        for then in (mark, beta, "put('gear.1.ball', '9 lb'); leave('gear.1.ball');",
                     "step('gear.1.boom_length', 1); step('gear.1.place.starboard', 1);"):
            with self.subTest(then=then):
                self.at_once(remove + then)
                text = self.now()
                self.assertNotIn("Alpha", text)
                self.assertEqual(text.count("measured}"), before.count("measured}"))
                self.assertNotIn("9 lb", text)
                self.assertIn("look at it, then tap again", self.notices())
                self.assertTrue(before.endswith(text[text.index("name: Beta"):]))
                self.at_once("byId('undo').click();")
                self.assertEqual(self.now(), before)

    def test_an_entry_of_no_item_is_taken_while_one_is_added_or_removed(self):
        self.blank()
        self.at_once("put('gear.0.on_board.side', 'starboard'); leave('gear.0.on_board.side');")
        self.quiet()
        self.at_once("""tap('Gear', 'Another like it');
            put('mount.board.length', '8 ft'); leave('mount.board.length');""")
        self.assertIn("length: {is: 8 ft", self.now())
        self.at_once("""tap('Gear 2', 'Remove');
            put('mount.board.length', '9 ft'); leave('mount.board.length');""")
        self.assertIn("length: {is: 9 ft", self.now())

    def test_a_drag_whose_ring_goes_leaves_the_page_working(self):
        self.three_gears()
        ring = self.handle("gear.2.place.starboard")
        self.at_once("""addEventListener('pointerdown', () => tap('Gear 3', 'Remove'),
            {capture: true, once: true});""")
        self.drag(ring, 30, "mouse")
        self.until("!document.querySelector('[data-path=\"gear.2.ball\"]')")
        self.at_once("put('gear.0.ball', '8 lb'); leave('gear.0.ball');")
        self.assertIn("ball: {is: 8 lb, known: assumed}", self.now())
        self.verdict()

    def test_undo_takes_back_what_was_there_when_it_was_tapped(self):
        self.begin(BOARD)
        self.at_once("put('gear.0.boom_length', '500 mm'); leave('gear.0.boom_length');")
        self.quiet()
        self.at_once("byId('undo').click(); put('gear.0.mass', '5 kg'); leave('gear.0.mass');")
        text = self.now()
        self.assertNotIn("500 mm", text)
        self.assertIn("mass: 5 kg", text)

    def test_what_is_typed_while_undo_is_on_its_way_is_read_behind_it(self):
        self.begin(BOARD)
        self.at_once("put('gear.0.boom_length', '500 mm'); leave('gear.0.boom_length');")
        self.quiet()
        self.at_once("byId('undo').click(); put('gear.0.mass', '5 kg');")
        self.until(f"{self.KEPT}.includes('mass: 5 kg')", 60)
        self.assertNotIn("500 mm", self.now())

    def test_the_template_is_of_the_entry_that_was_just_typed_and_none_of_a_refused_one(self):
        self.needs_names_of_the_script()
        self.begin(BOARD)
        self.at_once("""put('gear.0.foot.holes.fore_aft', '77 mm'); byId('show-template').click();""")
        self.until("shownPaper")
        self.assertTrue(self.js("return shownPaper.text.includes('77 mm') && "
                                "shownPaper.text === setup.text"))
        self.click("#sheet-close")
        self.at_once("put('gear.0.mass', 'light'); byId('show-template').click();")
        self.until("document.getElementById('sheet-words').textContent.includes('does not fit')")
        self.assertTrue(self.js("return shownPaper === null"))

    def test_a_mark_becomes_what_was_meant_when_it_was_tapped(self):
        self.blank()
        mark = "entry('gear.0.ball').parentElement.querySelector('.mark').click();"
        self.at_once(mark)
        self.assertIn("ball: {is: 10 lb, known: measured}", self.now())
        self.at_once("byId('undo').click();" + mark)
        self.assertIn("ball: {is: 10 lb, known: assumed}", self.now())

    def test_undo_it_takes_back_the_applied_change_or_nothing(self):
        self.begin(BOARD)
        before = self.text()
        self.js("""applyEdits([{path: 'gear.0.mass', value: '5 kg'}], 'lighter', 'changes');""")
        self.until("document.querySelector('[data-notice=applied]')")
        undo_it = "[...document.querySelectorAll('[data-notice=applied] button')].find((one) => " \
            "one.textContent === 'Undo it').click();"
        self.at_once("put('gear.0.boom_length', '500 mm');" + undo_it)
        text = self.now()
        self.assertIn("mass: 5 kg", text)
        self.assertIn("boom_length: 500 mm", text)
        self.assertIn("look at it, then tap again", self.notices())
        self.at_once("byId('undo').click(); byId('undo').click();")
        self.assertEqual(self.now(), before)

    def test_an_entry_typed_back_to_what_was_refused_is_read_when_it_is_left(self):
        self.needs_names_of_the_script()
        self.begin(BOARD)
        self.at_once("put('gear.0.mass', 'light'); leave('gear.0.mass');")
        self.quiet()
        self.at_once("put('gear.0.mass', 'lighter'); put('gear.0.mass', 'light');")
        self.at_once("entry('gear.0.mass').blur();")
        self.quiet()
        self.assertFalse(self.js("return setup.touched"))
        self.assertEqual(self.js(f"return {WRONG}"), "gear.0.mass: light")

    def test_the_hand_of_a_ring_that_went_keeps_nothing_that_cannot_be_seen(self):
        self.three_gears()
        self.at_once("""byId('pick').value = 'gear.2.place.starboard';
            byId('pick').dispatchEvent(new Event('change'));""")
        self.until("!document.getElementById('hand').hidden")
        self.at_once("""tap('Gear 1', 'Remove'); byId('hand-value').value = '31 in';
            byId('hand-value').dispatchEvent(new Event('input'));
            byId('hand-value').dispatchEvent(new Event('change'));""")
        self.assertNotIn("31 in", self.now())
        self.assertIn("look at it, then tap again", self.notices())
        self.verdict()
