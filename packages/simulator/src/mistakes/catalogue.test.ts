import { evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { type Laboratory, noiseless, pointDetector } from "../laboratory.ts";
import { simulate } from "../simulate.ts";
import { standardLaboratory } from "../standard-laboratory.ts";
import { differences } from "../testing/cells.ts";
import { MISTAKES, type MistakeKind, mistakeOf, withMistake } from "./catalogue.ts";

const kinds = Object.keys(MISTAKES) as MistakeKind[];
const laboratory = pointDetector(standardLaboratory());
const clean = simulate(laboratory, 21);

test("every mistake says what was done, what its size means, and does something in one phase at least", () => {
  for (const kind of kinds) {
    const { what, size, rebuild, spoil, mistype } = MISTAKES[kind];
    expect(what, kind).toMatch(/^[A-Z].*\.$/);
    if (size) expect(size.meaning.length, kind).toBeGreaterThan(3);
    expect([rebuild, spoil, mistype].filter((step) => step !== undefined).length, kind).toBeGreaterThan(0);
  }
  expect(kinds.length).toBeGreaterThan(40);
});

test.each(kinds)("%s: at its usual size it is made, told, and leaves everything else as it was", (kind) => {
  const { campaign, truth } = simulate(withMistake(laboratory, kind), 21);
  const [made] = truth.mistakes;
  expect(made!.kind).toBe(kind);
  const places = differences(clean.campaign, campaign);
  const redescribed = JSON.stringify(campaign.descriptor) !== JSON.stringify(clean.campaign.descriptor);
  expect(places.length + (redescribed ? 1 : 0)).toBeGreaterThan(0);
  if (places.length > 0) expect(made!.places.length).toBeGreaterThan(0);
  // whatever differs lies where the mistake says that it was made
  const told = (place: string) => {
    const [series, reading, column] = place.split("/");
    return made!.places.some(
      (own) =>
        own.series === series &&
        (own.reading === undefined || own.reading === reading) &&
        (own.column === undefined || column === undefined || own.column === column || alsoTouched(kind, column)) &&
        (own.condition === undefined ||
          own.reading !== undefined ||
          conditionsOf(series, reading!).includes(own.condition)),
    );
  };
  const spreading = ["first-channel-saturated", "second-channel-saturated", "already-net", "single-reading"];
  if (!spreading.includes(kind)) expect(places.filter((place) => !told(place))).toEqual([]);
  expect(truth.stemRatio).toBe(clean.truth.stemRatio);
  expect(truth.outputFactors).toEqual(clean.truth.outputFactors);
});

/** Columns beside the one that a mistake names. */
function alsoTouched(kind: MistakeKind, column: string): boolean {
  const beside: Partial<Record<MistakeKind, string[]>> = {
    "field-size-mistyped": ["fwhm_y_mm"],
    "correction-applied-twice": ["k_volume_u", "signal_blue", "signal_green"],
  };
  return beside[kind]?.includes(column) ?? false;
}

function conditionsOf(series: string, reading: string): string[] {
  const table = clean.campaign.tables[series]!;
  return table.rows.filter((row) => row[0] === reading).map((row) => row[1]!);
}

/** Mistakes that grow with their size from nothing: of size nothing they change nothing. */
const growing: readonly MistakeKind[] = [
  "dose-unequal",
  "verification-dose-unequal",
  "output-drifts-within-condition",
  "output-stepped",
  "beam-stopped-early",
  "field-set-wrong",
  "detector-off-centre",
  "monitor-sees-field",
  "monitor-range-changed",
  "scintillator-moved",
  "fibre-bent",
  "other-energy",
  "aged-between-days",
  "connector-loosened",
  "room-light-in-condition",
  "gain-changed",
  "outlier",
  "warm-up-skipped",
  "background-lights-on",
  "afterglow",
  "temperature-mistyped",
];

test.each(growing)("%s: of size nothing it changes nothing", (kind) => {
  expect(differences(clean.campaign, simulate(withMistake(laboratory, kind, 0), 21).campaign)).toEqual([]);
});

const factors: readonly MistakeKind[] = [
  "decimal-slipped",
  "unit-slipped",
  "duration-mistyped",
  "mu-mistyped",
  "monitor-mistyped",
  "field-size-mistyped",
  "field-width-mistyped",
  "background-duration-mistyped",
  "channels-noisy",
];

test.each(factors)("%s: a factor of one changes nothing", (kind) => {
  expect(differences(clean.campaign, simulate(withMistake(laboratory, kind, 1), 21).campaign)).toEqual([]);
});

test("several mistakes are made one after the other, each told", () => {
  const both = withMistake(withMistake(laboratory, "outlier"), "temperature-in-fahrenheit");
  const { truth, campaign } = simulate(both, 21);
  expect(truth.mistakes.map(({ kind }) => kind)).toEqual(["outlier", "temperature-in-fahrenheit"]);
  const places = differences(clean.campaign, campaign);
  expect(places.filter((place) => place.endsWith("temperature_C")).length).toBeGreaterThan(30);
  expect(places.filter((place) => place.endsWith("signal_blue"))).toHaveLength(1);
});

test("chance picks other readings with other seeds", () => {
  const spoilt = withMistake(laboratory, "outlier");
  const places = Array.from({ length: 30 }, (_, seed) =>
    JSON.stringify(simulate(spoilt, seed).truth.mistakes[0]!.places),
  );
  expect(new Set(places).size).toBeGreaterThan(5);
});

test("a size that a mistake does not have, or no number, is refused", () => {
  expect(() => withMistake(laboratory, "channels-swapped", 3)).toThrow(/has no size/);
  expect(() => withMistake(laboratory, "outlier", Number.NaN)).toThrow(/finite/);
  expect(() => mistakeOf("toString")).toThrow(/no mistake is called toString/);
});

const without = (change: (own: Laboratory) => Laboratory) => change(laboratory);
const plan = (change: object) =>
  without((own) => ({ ...own, physicist: { ...own.physicist, plan: { ...own.physicist.plan, ...change } } }));
const writes = (change: object) =>
  without((own) => ({ ...own, physicist: { ...own.physicist, writes: { ...own.physicist.writes, ...change } } }));
const bare = without((own) => ({ ...own, monitor: undefined }));

test.each<[MistakeKind, Laboratory, RegExp]>([
  ["monitor-sees-field", bare, /needs a monitor/],
  ["monitor-range-changed", bare, /needs a monitor/],
  ["monitor-mistyped", bare, /needs the column monitor/],
  ["mu-mistyped", writes({ mu: false }), /needs the column mu/],
  ["time-mistyped", writes({ time: false }), /needs the column time/],
  ["temperature-in-fahrenheit", writes({ temperature: false }), /needs the column temperature_C/],
  ["background-lights-on", plan({ background: undefined }), /needs a background/],
  ["background-duration-mistyped", plan({ background: undefined }), /needs the series background/],
  ["dose-in-cgy", plan({ calibration: undefined }), /needs the series calibration/],
  ["dose-unequal", plan({ separation: [] }), /two fit conditions/],
  [
    "verification-dose-unequal",
    plan({ separation: laboratory.physicist.plan.separation.slice(0, 2) }),
    /a verification/,
  ],
  ["signals-copied-down", plan({ repeats: 1 }), /needs repeats/],
])("%s: a laboratory without the opportunity is told so", (kind, own, words) => {
  expect(() => simulate(withMistake(own, kind), 1)).toThrow(words);
});

/** What an evaluation without noise makes of a mistake. */
function evaluated(kind: MistakeKind, size?: number) {
  const { result } = evaluate(simulate(withMistake(noiseless(laboratory), kind, size), 2).campaign);
  const value = (id: string) => result.quantities.find((own) => own.id === id)?.value;
  return { value, codes: result.findings.map(({ code }) => code) };
}

test.each<[MistakeKind, number, number, number]>([
  // synthetic set A of docs/job.md 0: what each mistake makes of ρ = 0.7500 and N_D = 25.8065 cGy/nC, C
  ["dose-unequal", 3, 0.758, 0.25994],
  ["dose-unequal", 5, 0.763, 0.26114],
  ["second-channel-saturated", 1, 0.7595, 0.2603],
  ["second-channel-saturated", 5, 0.8, 0.27027],
])("%s by %s %%: ratio and coefficient come out as in the synthetic set", (kind, size, ratio, coefficient) => {
  const { value } = evaluated(kind, size);
  // the set has exactly equal readings; here the dark reading saturates along and the temperature is 21.9 °C
  expect(value("separation.stem-ratio")).toBeCloseTo(ratio, 3);
  expect(value("calibration.coefficient")! / coefficient).toBeCloseTo(1, 3);
});

test("swapped channels give the inverse ratio and a negative signal, as in the synthetic set", () => {
  const { value, codes } = evaluated("channels-swapped");
  expect(value("separation.stem-ratio")).toBeCloseTo(4 / 3, 6);
  expect(codes).toContain("signal-not-positive");
});

test("a field off the centre reads low by its loss, and a correction applied twice reads high", () => {
  const base = evaluate(simulate(noiseless(laboratory), 2).campaign).result;
  const clean = base.quantities.find(({ id }) => id === "output-factor.cone-5")!.value;
  const low = evaluated("detector-off-centre", 0.5).value("output-factor.cone-5")! / clean;
  expect(low).toBeLessThan(0.99);
  expect(low).toBeGreaterThan(0.973); // Gaussian bound of docs/job.md T7: 2.7 %
  const spoilt = withMistake(noiseless(laboratory), "correction-applied-twice", 3);
  const { campaign, truth } = simulate(spoilt, 2);
  const name = truth.mistakes[0]!.places[0]!.condition!;
  const twice = evaluate(campaign).result.quantities.find(({ id }) => id === `output-factor.${name}`)!.value;
  const once = base.quantities.find(({ id }) => id === `output-factor.${name}`)!.value;
  // what was corrected is the reading with its dark part
  expect(twice / once).toBeCloseTo(1.03 * 1.03, 3);
});

test("light lost in the first channel with much fibre, and stem light of another energy, move the ratio as they must", () => {
  // q1 of much fibre 1.6·17 nC less 2 %: ρ' = (0.98·17 − 6.5)/(17.5 − 3.5), C; 21.9 °C changes the fourth digit
  expect(evaluated("fibre-bent", 2).value("separation.stem-ratio")).toBeCloseTo((0.98 * 17 - 6.5) / 14, 3);
  expect(evaluated("other-energy", 1).value("separation.stem-ratio")).toBeCloseTo(0.7575, 9);
});
