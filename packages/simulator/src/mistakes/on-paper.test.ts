import { expect, test } from "vitest";
import { pointDetector, withRepeats } from "../laboratory.ts";
import { simulate } from "../simulate.ts";
import { standardLaboratory } from "../standard-laboratory.ts";
import { cells, differences, numbers } from "../testing/cells.ts";
import { type MistakeKind, withMistake } from "./catalogue.ts";

const laboratory = pointDetector(standardLaboratory());
const OUTPUTS = "output-factors";

function pair(kind: MistakeKind, size?: number, seed = 5, own = laboratory) {
  const clean = simulate(own, seed).campaign;
  const { campaign, truth } = simulate(withMistake(own, kind, size), seed);
  return { clean, campaign, places: truth.mistakes[0]!.places, changed: differences(clean, campaign) };
}

const cell = (campaign: Parameters<typeof cells>[0], place: string) => {
  const [series, reading, column] = place.split("/") as [string, string, string];
  return cells(campaign, series, column)[cells(campaign, series, "reading").indexOf(reading)]!;
};

test("one cell of one reading: a slipped point, digits in each other's place", () => {
  const slipped = pair("decimal-slipped");
  expect(slipped.changed).toHaveLength(1);
  const [place] = slipped.changed as [string];
  expect(Number(cell(slipped.campaign, place))).toBeCloseTo(10 * Number(cell(slipped.clean, place)), 6);
  const transposed = pair("digits-transposed", 2);
  const [at] = transposed.changed as [string];
  const [before, after] = [cell(transposed.clean, at), cell(transposed.campaign, at)];
  expect([...after].sort()).toEqual([...before].sort());
  const point = before.indexOf(".");
  expect(after).toBe(before.slice(0, point + 2) + before[point + 3] + before[point + 2] + before.slice(point + 4));
});

test("digits that are alike are never chosen to change places", () => {
  for (let seed = 0; seed < 40; seed++) expect(pair("digits-transposed", 1, seed).changed).toHaveLength(1);
});

test("one row: another unit, swapped channels, another condition", () => {
  const unit = pair("unit-slipped");
  expect(unit.changed.map((place) => place.split("/")[2])).toEqual(["signal_blue", "signal_green"]);
  for (const place of unit.changed)
    expect(Number(cell(unit.campaign, place))).toBeCloseTo(1000 * Number(cell(unit.clean, place)), 3);
  const swapped = pair("channels-swapped-in-row");
  const [blue, green] = swapped.changed as [string, string];
  expect(cell(swapped.campaign, blue)).toBe(cell(swapped.clean, green));
  expect(cell(swapped.campaign, green)).toBe(cell(swapped.clean, blue));
  const misnamed = pair("reading-misnamed");
  expect(new Set(misnamed.changed.map((place) => place.split("/")[1])).size).toBe(1);
  expect(misnamed.changed.some((place) => place.endsWith("/condition"))).toBe(true);
});

test("rows pasted twice stand behind their own, under new ids", () => {
  const { clean, campaign, places } = pair("rows-pasted-twice", 3);
  const before = clean.tables[OUTPUTS]!.rows;
  const after = campaign.tables[OUTPUTS]!.rows;
  expect(after).toHaveLength(before.length + 3);
  const ids = after.map((row) => row[0]!);
  expect(new Set(ids).size).toBe(ids.length);
  const at = ids.indexOf(places[0]!.reading!);
  for (let i = 0; i < 3; i++) expect(after[at + i]!.slice(1)).toEqual(after[at + i - 3]!.slice(1));
});

test("signals copied down are those of the reading before, in the same condition", () => {
  const { campaign, places } = pair("signals-copied-down");
  const rows = campaign.tables[OUTPUTS]!.rows;
  const at = rows.findIndex((row) => row[0] === places[0]!.reading);
  const signals = campaign.tables[OUTPUTS]!.columns.indexOf("signal_blue");
  expect(rows[at]!.slice(signals, signals + 2)).toEqual(rows[at - 1]!.slice(signals, signals + 2));
  expect(rows[at]![1]).toBe(rows[at - 1]![1]);
});

test("two fields under each other's names keep their readings, and every row of a condition describes one field", () => {
  const { clean, campaign, places } = pair("conditions-swapped");
  const names = [...new Set(places.map(({ condition }) => condition!))];
  expect(names).toHaveLength(2);
  const [a, b] = names as [string, string];
  expect(cells(campaign, OUTPUTS, "signal_blue", a)).toEqual(cells(clean, OUTPUTS, "signal_blue", b));
  expect(cells(campaign, OUTPUTS, "fwhm_x_mm", a)).toEqual(cells(clean, OUTPUTS, "fwhm_x_mm", a));
  expect(new Set(cells(campaign, OUTPUTS, "shape", b)).size).toBe(1);
});

test("least and most fibre under each other's names", () => {
  const { clean, campaign } = pair("separation-conditions-swapped");
  expect(numbers(campaign, "separation", "signal_blue", "short")).toEqual(
    numbers(clean, "separation", "signal_blue", "long"),
  );
  expect(new Set(cells(campaign, "separation", "fibre_mm", "short"))).toEqual(new Set(["50"]));
});

test("columns in another unit or sense", () => {
  const fahrenheit = pair("temperature-in-fahrenheit");
  expect(numbers(fahrenheit.campaign, OUTPUTS, "temperature_C")[0]).toBeCloseTo(
    32 + 1.8 * numbers(fahrenheit.clean, OUTPUTS, "temperature_C")[0]!,
    1,
  );
  const centi = pair("dose-in-cgy");
  expect(numbers(centi.campaign, "calibration", "dose_Gy")[2]).toBeCloseTo(
    100 * numbers(centi.clean, "calibration", "dose_Gy")[2]!,
    2,
  );
  expect(new Set(cells(pair("dose-u-as-fraction").campaign, "calibration", "dose_u_percent"))).toEqual(
    new Set(["0.007"]),
  );
  expect(numbers(pair("sign-flipped").campaign, "separation", "signal_green").every((value) => value < 0)).toBe(true);
  expect(numbers(pair("background-duration-mistyped").campaign, "background", "duration_s")[0]).toBe(60);
});

test("digits are lost in one condition, or only the zeros at the end", () => {
  const lost = pair("digits-lost");
  const condition = lost.places[0]!.condition!;
  expect(cells(lost.campaign, OUTPUTS, "signal_blue", condition).every((text) => /^\d+\.\d$/.test(text))).toBe(true);
  const dropped = pair("digits-dropped-throughout");
  for (const place of dropped.changed) {
    expect(Number(cell(dropped.campaign, place))).toBe(Number(cell(dropped.clean, place)));
    expect(cell(dropped.clean, place)).toMatch(/0$/);
  }
});

test("a time is off by whole hours, in its condition throughout", () => {
  const { clean, campaign, places } = pair("time-mistyped", 3);
  const condition = places[0]!.condition!;
  const [before, after] = [cells(clean, OUTPUTS, "time", condition), cells(campaign, OUTPUTS, "time", condition)];
  const hours = (text: string) => Number(text.slice(11, 13));
  after.forEach((text, i) => {
    expect((hours(text) - hours(before[i]!) + 24) % 24).toBe(3);
    expect(text.slice(13)).toBe(before[i]!.slice(13));
  });
});

test("what is said of the detector is wrong by a factor", () => {
  const { campaign, changed } = pair("volume-mistyped", 5, 5, standardLaboratory());
  expect(changed).toEqual([]);
  expect(campaign.descriptor.alcedo.detector.activeVolume).toEqual({ diameter_mm: 5, length_mm: 5 });
  const percent = pair("coefficient-in-percent").campaign.descriptor.alcedo.detector.temperatureCoefficient_perK;
  expect(percent).toEqual({ value: -0.09, u: 0.03 });
});

test("a field read once, and a field called the reference", () => {
  const { campaign, clean, places } = pair("single-reading");
  const condition = places[0]!.condition!;
  expect(cells(campaign, OUTPUTS, "reading", condition)).toHaveLength(1);
  expect(cells(campaign, OUTPUTS, "reading")).toHaveLength(cells(clean, OUTPUTS, "reading").length - 4);
  // ids are numbered on paper, so those behind move up; the signals stay
  expect(cells(campaign, OUTPUTS, "signal_blue")).toEqual(
    expect.arrayContaining(cells(clean, OUTPUTS, "signal_blue", "100x100")),
  );
  const called = pair("field-called-reference");
  expect(new Set(cells(called.campaign, OUTPUTS, "role", called.places[0]!.condition))).toEqual(new Set(["reference"]));
});

test("mistakes do not hang on the number of repeats", () => {
  for (const kind of ["rows-pasted-twice", "output-drifts-within-condition", "outlier"] as const)
    expect(pair(kind, undefined, 3, withRepeats(laboratory, 3)).changed.length).toBeGreaterThan(0);
});
