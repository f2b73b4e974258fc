import type { Plan, PlannedField } from "./physicist.ts";
import { plainShot, type SeriesName, type Shot } from "./shot.ts";

/** What is written of a condition, however often it is set up: the field as it is meant to be. */
export type Meant = ReadonlyMap<string, PlannedField>;

/**
 * All readings of a plan in the order in which they are taken: background, separation, calibration, output factors with
 * the reference between, background.
 *
 * @throws Error where two fields of one series share a name, or the plan is of no use.
 */
export function schedule(plan: Plan): Shot[] {
  requireSense(plan);
  const shots: Shot[] = [];
  let time_s = 0;
  let setup = 0;
  const take = (
    series: SeriesName,
    condition: string,
    count: number,
    more: Partial<Pick<Shot, "field" | "angle_deg">> & { readonly duration_s: number; readonly interval_s: number },
  ) => {
    const { interval_s, ...own } = more;
    for (let i = 0; i < count; i++) {
      if (i > 0) time_s += interval_s;
      const mu = own.field ? plan.mu : 0;
      shots.push(plainShot({ series, condition, number: shots.length, setup, time_s, mu, ...own }));
    }
    setup++;
    time_s += plan.setup_s;
  };
  const { background, duration_s, interval_s, repeats } = plan;
  const dark = background && { duration_s: background.duration_s, interval_s: background.duration_s + 5 };
  const beamOn = (series: SeriesName, field: PlannedField & { readonly angle_deg?: number }) => {
    const { angle_deg = 90, name, aperture, fibre_mm } = field;
    take(series, name, repeats, { field: { name, aperture, fibre_mm }, angle_deg, duration_s, interval_s });
  };
  if (dark) take("background", "before", background.before, dark);
  for (const arrangement of plan.separation) beamOn("separation", arrangement);
  if (plan.calibration) beamOn("calibration", plan.calibration);
  time_s += plan.rest_s ?? 0;
  const { reference, fields, referenceEvery } = plan.outputFactors;
  beamOn("output-factors", reference);
  fields.forEach((field, i) => {
    beamOn("output-factors", field);
    const last = i === fields.length - 1;
    if (referenceEvery > 0 && (last || (i + 1) % referenceEvery === 0)) beamOn("output-factors", reference);
  });
  if (dark) take("background", "after", background.after, dark);
  return shots;
}

/** The fields of a plan by series and condition, as they are meant. */
export function meantFields({ separation, calibration, outputFactors }: Plan): Readonly<Record<SeriesName, Meant>> {
  const named = (fields: readonly PlannedField[]): Meant => new Map(fields.map((field) => [field.name, field]));
  return {
    background: new Map(),
    separation: named(separation),
    calibration: named(calibration ? [calibration] : []),
    "output-factors": named([outputFactors.reference, ...outputFactors.fields]),
  };
}

function requireSense(plan: Plan): void {
  const { separation, outputFactors, repeats, background } = plan;
  const twice = (names: readonly string[]) => names.find((name, i) => names.indexOf(name) !== i);
  const again =
    twice(separation.map(({ name }) => name)) ??
    twice([outputFactors.reference, ...outputFactors.fields].map(({ name }) => name));
  if (again !== undefined) throw new Error(`the plan has two fields ${again} in one series: give each its own name`);
  const counts = [repeats, ...(background ? [background.before, background.after] : [])];
  if (counts.some((count) => !(Number.isSafeInteger(count) && count >= 0)) || repeats === 0)
    throw new Error("the plan needs a whole number of repeats, one at least, and of background readings");
  if (background && background.before + background.after === 0)
    throw new Error("the plan has a background without readings: leave it out, or take some");
}
