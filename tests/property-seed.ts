/**
 * One seed for every property test, so that a red run can be repeated; a seed that found something becomes a named
 * test. `ALCEDO_PROPERTY_SEED` and `ALCEDO_PROPERTY_RUNS` search elsewhere and longer.
 */
import { configureGlobal } from "fast-check";

const runs = process.env["ALCEDO_PROPERTY_RUNS"];

configureGlobal({
  seed: Number(process.env["ALCEDO_PROPERTY_SEED"] ?? 20_260_101),
  ...(runs === undefined ? {} : { numRuns: Number(runs) }),
});
