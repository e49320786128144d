"""The blind second count: who may, the phone handed over, place by place with no figure shown, then side by side."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, ClassVar

from checklists import builders, second_count
from checklists.blind_walk import Stop, stops
from checklists.facts import Seen
from checklists.times import clock_face, seconds_between
from checklists.words import out_of, within
from mobileapp.screens.blind_walk import BlindWalk
from mobileapp.screens.form_parts import Choice, Choices, Faulty, facts, remember
from mobileapp.screens.lead_on import lead_on, short_words, what_next
from mobileapp.screens.stamps import when
from mobileapp.widgets.plate import Plate
from mobileapp.widgets.running_time import running_time
from mobileapp.widgets.text import Body, Heading, Small


class SecondCountScreen(BlindWalk):
    """Its step is in the draft: who counts, the phone is handed over, the counts made so far, what came of it."""

    every_second: ClassVar[bool] = True

    def build(self, closure: str = "", who: str = "", **args: Any) -> None:
        """Take up the count where it stands; one that was interrupted, at the beginning of its place."""
        self.closure = closure
        self.closure_name = self.desk.state.closures[closure].name
        self.title = "Re-inspection" if self._alone else "Second count"
        step = self.desk.draft.setdefault("step", "who")
        if step == "count":
            self.take_up_walk()
        elif step == "result":
            self._show_result()
        elif step == "hand":
            self._show_hand_over()
        elif step == "dropped":
            self.show_dropped()
        else:
            self._show_who(who)

    @property
    def _alone(self) -> bool:
        return second_count.works_alone(self.desk.state)

    # --- who

    def _show_who(self, who: str) -> None:
        state = self.desk.state
        self.end()
        self.add_widget(Heading(text=f"Before the {within(self.closure_name)} goes back"))
        may = second_count.who_may(state, self.closure)
        if self._alone:
            self._show_pause()
        elif may:
            self._ask_who(may, who)
        else:
            self.add_widget(Body(text="A second count needs a person who had less hand in the work there. "
                                      "Add one to the job."))
            self.act_text, self.act_note, self.act_ready = "Add a person", "", True

    def _ask_who(self, may: list[str], who: str) -> None:
        work = second_count.last_worker(self.desk.state, self.closure)
        if work is not None:
            words = f"{work.who} worked there last, at {clock_face(work.at)}. Whoever had the least hand in it counts."
            self.add_widget(Body(text=words))
        roles = {person.name: person.role for person in self.desk.state.people}
        if self.desk.draft.get("who") not in may:
            self.desk.draft["who"] = who if who in may else may[0]
        choices = [Choice(name, name, roles.get(name, "")) for name in may]
        self.add_widget(Choices(self.desk, "who", "Who counts?", choices, self._show_who_act))
        self._show_who_act()

    def _show_who_act(self) -> None:
        who = self.desk.draft["who"]
        self.act_ready, self.act_note, self.act_tone, self.act_shape = True, "", "orange", "go"
        self.act_text = "Start the count" if who == self.desk.who else f"Hand the phone to {who}"

    def _show_pause(self) -> None:
        self.pause = Plate(tone="bone", shape="more", text="")
        self.under_pause = Faulty(self.pause)
        self.clock_said = ""
        self.add_widget(self.under_pause)
        self.add_widget(Body(text="You are alone on this job. A pause stands between the work and the second look; "
                                  "then count as if you had never seen it. It goes on record as a re-inspection."))
        self.tick()

    def tick(self) -> None:
        """Alone: the pause runs down."""
        if self.desk.draft.get("step") != "who" or not self._alone:
            return
        until, now = second_count.not_before(self.desk.state, self.closure), self.desk.clock()
        left = seconds_between(now, until) if until else 0.0
        self.act_ready = left <= 0
        end = when(until, now)
        self.pause.text = f"Pause until {end}" if left > 0 else "The pause is over"
        over = f"since {end}" if until else ""
        self.pause.note = f"{running_time(left + 0.999)} to go" if left > 0 else over
        self.act_text = "Start the re-inspection" if left <= 0 else f"Not before {end}"
        self.act_note, self.act_tone = "", "orange"
        self._say_clock(until, now)

    def _say_clock(self, until: str, now: str) -> None:
        """A clock that was set back makes the pause long: what can be done about it."""
        work = second_count.last_work(self.desk.state, self.closure)
        words = ""
        if work and until and second_count.pause_is_ahead(until, now):
            words = (f"The clock was set back: the last work is written down at {when(work.at, now)}, and it is "
                     f"{clock_face(now)} now. Set the clock right. If it is right, let the pause run by it, until "
                     f"{when(until, now)}.")  # fmt: skip
        if words != self.clock_said:
            self.clock_said = words
            self.under_pause.say_fault(words)

    # --- handing over

    def _show_hand_over(self) -> None:
        self.end()
        self.veil()
        who = self.desk.draft["who"]
        self.add_widget(Plate(tone="yellow", shape="go", text=f"Hand the phone to {who}", text_size_sp="30sp"))
        self.add_widget(Body(text=f"{who}: go from place to place. Touch what lies there and count it, one tap for "
                                  "each item. You are not told what to expect. Look into every corner before you say "
                                  "that it is all."))
        self.act_text, self.act_note = f"I am {who}: start the count", ""
        self.act_ready, self.act_tone, self.act_shape = True, "orange", "go"

    # --- counting

    def stops(self) -> tuple[Stop, ...]:
        """Everywhere that anything can lie."""
        return stops(self.desk.state)

    def likely(self) -> Collection[str]:
        """What is offered first before this closure goes back."""
        return second_count.likely_lines(self.desk.state, self.closure)

    def all_counted(self, seen: list[Seen]) -> None:
        """Record it, and lay it beside the tally."""
        fact = builders.counted_blind(self.desk.state, self.closure, seen)
        self.desk.draft.update(step="who", seen=[])
        if self.desk.record(fact):
            self.desk.draft.update(step="result")
            self.desk.keep()
            self.refresh()
            self._show_result()

    def former(self) -> str:
        """Whose the phone was before the count."""
        return str(self.desk.draft.get("former", ""))

    # --- side by side

    def _show_result(self) -> None:
        self.end()
        state = self.desk.state
        self.title = "Counts compared"
        count = state.second_counts[self.closure]
        differ = [seen for seen in count.fact.entries if (seen.line, seen.place) in state.discrepancies]
        self._say_result(len(count.fact.entries), len(differ), count.mark.who, count.mark.at)
        self.show_differing(differ)
        agreeing = [seen for seen in count.fact.entries if seen not in differ]
        self.add_widget(facts("Agree" if agreeing else "", [self.agreeing(seen) for seen in agreeing]))
        self.hand_back_key()
        self._show_result_act(differ)

    def _say_result(self, all_of: int, differ: int, who: str, at: str) -> None:
        if differ:
            words = f"{out_of(differ, all_of, 'count')} {'differs' if differ == 1 else 'differ'}"
            self.add_widget(Plate(tone="yellow", shape="refused", text=words, note=f"{who}, {clock_face(at)}"))
        else:
            words = f"{out_of(all_of, all_of, 'count')} {'agrees' if all_of == 1 else 'agree'}"
            self.add_widget(Plate(tone="sky", shape="gate", text=words, note=f"{who}, {clock_face(at)}"))
            self.add_widget(Small(text="A correct count is not proof of an empty engine."))

    def _show_result_act(self, differ: list[Seen]) -> None:
        self.act = None if differ or self.unlisted() else what_next(self.desk)
        self.act_text = short_words(self.act) if self.act else self.first_to_settle()
        self.act_note, self.act_ready, self.act_tone, self.act_shape = "", True, "orange", "go"

    def on_act(self) -> None:
        """One step on."""
        step = self.desk.draft["step"]
        if step == "who":
            self._chosen()
        elif step == "hand":
            self.desk.hand_to(self.desk.draft["who"])
            self.begin_walk()
        elif step == "count":
            self.next_count()
        elif step == "dropped":
            self.desk.back()
        elif self.act is None:
            self.settle_first()
        else:
            lead_on(self.desk, self.act)

    def _chosen(self) -> None:
        if not self._alone and not second_count.who_may(self.desk.state, self.closure):
            self.desk.go("people")
        elif self._alone or self.desk.draft["who"] == self.desk.who:
            self.begin_walk()
        else:
            self.desk.draft["former"] = self.desk.who
            remember(self.desk, "step", "hand")
            self._show_hand_over()
