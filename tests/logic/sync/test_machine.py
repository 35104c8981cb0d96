"""The same world under a state machine, so that a history that fails is shrunk to what matters."""

from datetime import timedelta

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from logic.records.types import Client, Sward
from tests.logic.sync.simulator import FATES, World
from tests.logic.sync.steps import STEPS

NAMES = ("ann", "bob", "cyd")
WHO, NUMBER = st.sampled_from(NAMES), st.integers(0, 10**6)


class Machine(RuleBasedStateMachine):
    """Three phones that begin with a green in common."""

    @initialize(seed=st.integers(0, 99))
    def begin(self, seed: int) -> None:
        self.world = World(seed)
        for name in NAMES:
            self.world.phone(name)
        ann = self.world.phones["ann"]
        client = ann.add(Client(id="c1", name="Ada Fen", note=self.world.value()))
        ann.add(Sward(id="s1", name="Back green", client_id=client.id))
        for phone in self.world.phones.values():
            assert phone.sync()

    @rule(who=WHO, number=NUMBER, what=st.sampled_from(sorted(set(STEPS) - {"undo", "late"})))
    def step(self, who: str, number: int, what: str) -> None:
        STEPS[what][1](self.world, self.world.phones[who], number)
        self.world.now += timedelta(seconds=30)

    @rule(who=WHO, fates=st.lists(st.sampled_from(FATES), min_size=1, max_size=4))
    def sync_on_a_bad_line(self, who: str, fates: list[str]) -> None:
        coming = iter(fates)
        self.world.fates = lambda: next(coming, "arrives")
        self.world.phones[who].sync()
        self.world.fates = lambda: "arrives"

    @rule()
    def deliver_late(self) -> None:
        self.world.deliver_late()

    @invariant()
    def every_phone_shows_what_it_keeps(self) -> None:
        for phone in getattr(self, "world", World()).phones.values():
            phone.check()

    def teardown(self) -> None:
        if hasattr(self, "world"):
            self.world.settle()
            self.world.check()


TestMachine = Machine.TestCase
TestMachine.settings = settings(
    max_examples=40, stateful_step_count=20, suppress_health_check=[HealthCheck.too_slow]
)
