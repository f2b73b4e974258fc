import type { PlannedArrangement } from "../physicist.ts";
import type { SeriesName, Shot } from "../shot.ts";
import type { Place } from "../truth.ts";
import type { Circumstances, Spoilt } from "./mistake.ts";

/** Changes some of the shots. */
export function alter(
  shots: readonly Shot[],
  which: (shot: Shot) => boolean,
  change: (shot: Shot, place: number) => Partial<Shot>,
): Spoilt<readonly Shot[]> {
  const touched = shots.filter(which);
  return {
    made: shots.map((shot) => (which(shot) ? { ...shot, ...change(shot, touched.indexOf(shot)) } : shot)),
    places: placesOf(touched),
  };
}

/** The conditions that these shots belong to. */
function placesOf(shots: readonly Shot[]): Place[] {
  const named = new Map(shots.map(({ series, condition }) => [`${series}/${condition}`, { series, condition }]));
  return [...named.values()];
}

/** One of the things, by chance. */
export function pick<T>(things: readonly T[], { random }: Circumstances, what: string): T {
  const chosen = things[random.below(things.length)];
  if (chosen === undefined) throw new Error(`this mistake needs ${what}, and the laboratory has none`);
  return chosen;
}

/** The fit condition of the separation with the most fibre, or with the least. */
export function fitCondition(
  { laboratory }: Pick<Circumstances, "laboratory">,
  which: "least" | "most",
): PlannedArrangement {
  const fit = laboratory.physicist.plan.separation.filter(({ role }) => role === "fit");
  if (fit.length < 2) throw new Error("this mistake needs two fit conditions in the separation");
  return fit.reduce((a, b) => ((which === "most" ? b.fibre_mm > a.fibre_mm : b.fibre_mm < a.fibre_mm) ? b : a));
}

/** Whether a shot belongs to a condition of the separation. */
export function inArrangement({ name }: PlannedArrangement): (shot: Shot) => boolean {
  return ({ series, condition }) => series === "separation" && condition === name;
}

/** One set-up of a field of the output factors, the reference apart. */
export function fieldSetup(shots: readonly Shot[], circumstances: Circumstances): number {
  const { reference } = circumstances.laboratory.physicist.plan.outputFactors;
  const fields = shots.filter(({ series, condition }) => series === "output-factors" && condition !== reference.name);
  return pick([...new Set(fields.map(({ setup }) => setup))], circumstances, "a field among the output factors");
}

/** Whether a shot comes in the output factors at or after one that is chosen from their middle third. */
export function fromTheMiddle(shots: readonly Shot[], { random }: Circumstances): (shot: Shot) => boolean {
  const own = shots.filter(inSeries("output-factors"));
  const first = own[Math.floor(own.length * (1 / 3 + random.uniform() / 3))];
  if (!first) throw new Error("this mistake needs output factors");
  return ({ series, number }) => series === "output-factors" && number >= first.number;
}

/** Whether a shot belongs to a series. */
export function inSeries(name: SeriesName): (shot: Shot) => boolean {
  return ({ series }) => series === name;
}
