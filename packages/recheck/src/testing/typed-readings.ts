import {
  ASSUMPTION_DEFAULTS,
  type Assumptions,
  type OutputFactorReading,
  type Reading,
} from "@alcedo-dosimetry/campaign";

/** A typed reading of two channels, invented, with what a test needs put in place. */
export function typedReading<R extends Reading = Reading>(id: string, more: Partial<R> = {}): R {
  return { id, row: 1, line: 2, condition: "a", signals: [1, 1], digits: [1e-3, 1e-3], ...more } as unknown as R;
}

/** A typed reading of a square field, invented. */
export function typedField(id: string, more: Partial<OutputFactorReading> = {}): OutputFactorReading {
  return typedReading<OutputFactorReading>(id, { role: "field", shape: "rectangle", x_mm: 10, y_mm: 10, ...more });
}

/** The defaults of the assumptions, with some put in place. */
export function assumptions(more: Partial<Assumptions> = {}): Assumptions {
  const names = Object.keys(ASSUMPTION_DEFAULTS) as (keyof Assumptions)[];
  const defaults = Object.fromEntries(names.map((name) => [name, ASSUMPTION_DEFAULTS[name].value]));
  return { ...(defaults as unknown as Assumptions), ...more };
}
