import type { Beam } from "./beam.ts";
import { RandomStream } from "./random-stream.ts";
import type { Shot } from "./shot.ts";

/** Output of the beam at one shot over its nominal value. */
export interface Output {
  /** Where drift and walk have brought it: what is to be expected of a reading now. */
  readonly expected: number;
  /** What the pulses of this one shot gave. */
  readonly delivered: number;
}

/** The output at each shot: drift and random walk, which go on between readings, and the pulses' fluctuation within each. */
export function outputCourse(beam: Beam, shots: readonly Shot[], seed: number): Output[] {
  const walk = new RandomStream(seed, "walk");
  let level = 0;
  let before = 0;
  return shots.map(({ number, time_s, mu }) => {
    level += beam.walk_perRootHour * Math.sqrt((time_s - before) / 3600) * walk.normal();
    before = time_s;
    const pulses = Math.max(1, mu * beam.pulsesPerMU);
    const fluctuation = (beam.pulseSpread / Math.sqrt(pulses)) * new RandomStream(seed, "pulses", number).normal();
    const expected = 1 + level + (beam.drift_perHour * time_s) / 3600;
    return { expected, delivered: expected * (1 + fluctuation) };
  });
}
