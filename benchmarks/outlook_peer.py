"""The reduced model of the outlook in a compiled general sampler: time for each effective draw.

python benchmarks/outlook_peer.py        (needs the dependency group `sampler`; see outlook.py)

One trajectory sampler with adaptation (NUTS), compiled once, run from many starts: its compiling
is told apart, its adaptation counts, since every new posterior needs it. Several numbers of chains
and of adaptation steps are tried, and the best for its time is the peer.
"""

import json
import os
import sys
import time
from pathlib import Path
from typing import Any

for threads in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(threads, "1")
os.environ.setdefault(
    "XLA_FLAGS", "--xla_cpu_multi_thread_eigen=false intra_op_parallelism_threads=1"
)
sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests/season/outlook"))

import jax  # noqa: E402
import numpy as np  # noqa: E402
import numpyro  # noqa: E402
from numpyro.infer import NUTS  # noqa: E402
from reduced_posterior import model  # noqa: E402

RUNS = 16
TRIED = ((1, 200, 1000), (1, 300, 1000), (1, 500, 1500), (4, 200, 300), (16, 150, 80))
"""Chains, adaptation steps of each, draws of each."""


def drawn(z: dict[str, jax.Array]) -> np.ndarray:
    """All coordinates, (draws, coordinates); z: by name, (draws, chains, ...)."""
    parts = [np.asarray(z[name]) for name in sorted(z)]
    return np.concatenate(
        [part.reshape(part.shape[0] * part.shape[1], -1) for part in parts], axis=1
    )


def tried(chains: int, adapting: int, draws: int) -> dict[str, float]:
    """Seconds of processor and effective draws of one way of running it."""
    kernel = NUTS(model)
    begun = time.process_time()
    keys = [jax.random.PRNGKey(seed) for seed in range(RUNS)]
    if chains > 1:
        keys = [jax.random.split(key, chains) for key in keys]
    kernel.init(keys[0], adapting, None, (), {})
    starts = [NUTS(model).init(key, adapting, None, (), {}) for key in keys]

    def next_draw(state: Any, _: object) -> tuple[Any, Any]:
        new = kernel.sample(state, (), {})
        return new, new.z

    def one(state: Any) -> Any:
        adapted = jax.lax.fori_loop(0, adapting, lambda _, s: kernel.sample(s, (), {}), state)
        return jax.lax.scan(next_draw, adapted, None, draws)[1]

    run = jax.jit(one).lower(starts[0]).compile()
    compiling = time.process_time() - begun
    jax.block_until_ready(run(starts[0]))
    means, spreads = [], []
    begun = time.process_time()
    for start in starts:
        z = jax.block_until_ready(run(start))
        found = drawn(z if chains > 1 else {name: v[:, None] for name, v in z.items()})
        means.append(found.mean(axis=0))
        spreads.append(found.var(axis=0))
    seconds = (time.process_time() - begun) / RUNS
    worth = 1.0 / float((np.var(means, axis=0, ddof=1) / np.mean(spreads, axis=0)).mean())
    return {"chains": chains, "adapting": adapting, "draws": chains * draws,
            "compiling_s": round(compiling, 2), "seconds": round(seconds, 3),
            "effective": round(worth), "ms_for_each": round(1000 * seconds / worth, 3)}  # fmt: skip


def main() -> None:
    """Try every way, and print the best as JSON."""
    jax.config.update("jax_enable_x64", val=True)
    found = []
    for way in TRIED:
        found.append(tried(*way))
        print(found[-1], file=sys.stderr, flush=True)
    best = min(found, key=lambda one: one["ms_for_each"])
    with_what = {"numpyro": numpyro.__version__, "jax": jax.__version__}
    print(json.dumps({"best": best, "made_with": with_what}))


if __name__ == "__main__":
    main()
