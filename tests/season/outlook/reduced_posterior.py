"""Makes reduced_posterior.json with a general sampler; not part of the tests.

One batch in two tanks, stocked, counted by aliquots on five days: the site's larval survival, its
spreads, the clumping and the bias of aliquots, the batch's quality, the tanks' effects and what was
really stocked. The model is written here anew, from its description, with numpyro alone.

python tests/season/outlook/reduced_posterior.py    (needs the dependency group `sampler`)
"""

import json
import platform
import time
from pathlib import Path

import jax
import jax.numpy as jnp
import numpy as np
import numpyro
import numpyro.distributions as dist
from jax.scipy.special import gammaln
from numpyro.infer import MCMC, NUTS
from scipy.special import betaincinv, ndtr

HERE = Path(__file__).parent
LITRES, ALIQUOT_ML, STOCKED, STOCK_ERROR, VOLUME_ERROR, BIAS = (
    400.0,
    200.0,
    40000.0,
    0.1,
    0.05,
    0.03,
)
DAYS = (3, 6, 9, 12, 15)
COUNTS = (
    ((19, 13, 24, 16, 17), (12, 20, 16, 18, 11), (15, 9, 17, 12, 16), (14, 12, 9, 15, 10),
     (8, 12, 13, 9, 10)),
    ((17, 16, 12, 21, 15), (11, 14, 10, 17, 13), (9, 12, 6, 11, 13), (7, 8, 10, 5, 9),
     (4, 8, 5, 7, 6)),
)  # fmt: skip
GRID = np.linspace(-6, 6, 2401)


def pert(low: float, mode: float, high: float) -> np.ndarray:
    """Quantiles of a pert belief over GRID."""
    width = high - low
    return low + width * betaincinv(1 + 4 * (mode - low) / width, 1 + 4 * (high - mode) / width,
                                    ndtr(GRID))  # fmt: skip


PRIORS = {
    "veliger.survival": betaincinv(9.6, 20.8, ndtr(GRID)),
    "variation.batch": pert(0.15, 0.25, 0.40),
    "variation.tank": pert(0.05, 0.15, 0.30),
    "count.clumping_k": pert(3, 12, 40),
}


def model() -> None:
    """The reduced model."""
    value = {name: jnp.interp(numpyro.sample(name, dist.Normal()), GRID, table)
             for name, table in PRIORS.items()}  # fmt: skip
    bias = numpyro.sample("count.aliquot_bias", dist.Normal())
    quality = numpyro.sample("quality", dist.Normal())
    tank = numpyro.sample("veliger", dist.Normal().expand([2]))
    number = numpyro.sample("number", dist.Normal().expand([2]))
    daily = -jnp.log(value["veliger.survival"]) / 27.0
    daily = daily * jnp.exp(value["variation.batch"] * quality + value["variation.tank"] * tank)
    alive = STOCKED * jnp.exp(STOCK_ERROR * number)[:, None]
    alive = alive * jnp.exp(-daily[:, None] * jnp.array(DAYS, float))
    seen = jnp.array(COUNTS, float)
    m, k, total = seen.shape[-1], value["count.clumping_k"], seen.sum(-1)
    mean = alive * m * ALIQUOT_ML / 1000 / LITRES * jnp.exp(BIAS * bias)
    size = 1 / (1 / (m * k) + VOLUME_ERROR**2)
    summed = gammaln(total + size) - gammaln(size) + size * jnp.log(size / (size + mean))
    summed = summed + total * jnp.log(mean / (size + mean))
    split = gammaln(m * k) - gammaln(total + m * k) + (gammaln(seen + k) - gammaln(k)).sum(-1)
    numpyro.factor("counts", (summed + split).sum())


def main() -> None:
    """Sample, and write means and standard deviations."""
    jax.config.update("jax_enable_x64", val=True)
    sampler = MCMC(NUTS(model), num_warmup=1000, num_samples=6000, num_chains=2,
                   chain_method="sequential", progress_bar=False)  # fmt: skip
    begin = time.perf_counter()
    sampler.run(jax.random.PRNGKey(1))
    seconds = time.perf_counter() - begin
    begin = time.perf_counter()
    sampler.post_warmup_state = sampler.last_state
    sampler.run(jax.random.PRNGKey(2))
    again = time.perf_counter() - begin
    draws = {}
    for name, values in sampler.get_samples().items():
        for i, column in enumerate(np.asarray(values).reshape(values.shape[0], -1).T):
            draws[f"{name} {i + 1}" if values.ndim > 1 else name] = column
    found = {name: [round(float(v.mean()), 4), round(float(v.std()), 4)]
             for name, v in draws.items()}  # fmt: skip
    told = {
        "made_with": {"numpyro": numpyro.__version__, "jax": jax.__version__,
                      "numpy": np.__version__, "python": platform.python_version()},
        "draws": len(next(iter(draws.values()))),
        "seconds": {"first_run_with_compiling": round(seconds, 1),
                    "second_run_without_warmup": round(again, 1)},
        "mean_and_sd": found,
    }  # fmt: skip
    (HERE / "reduced_posterior.json").write_text(json.dumps(told, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()
