import { expect, test } from "vitest";
import type { Plan } from "./physicist.ts";
import { meantFields, schedule } from "./schedule.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

const { plan } = standardLaboratory().physicist;
const conditions = (own: Plan) => {
  const visits: string[] = [];
  let before = -1;
  for (const { setup, condition } of schedule(own)) {
    if (setup !== before) visits.push(condition);
    before = setup;
  }
  return visits;
};

test("everything is measured in order, the reference between", () => {
  expect(conditions(plan)).toEqual([
    "before",
    ...["short", "long", "half", "longest"],
    "reference",
    ...["100x100", "60x60", "30x30", "20x16", "100x100", "10x10", "cone-7.5", "cone-5", "100x100"],
    "after",
  ]);
});

test("the reference is read once only, or after every field, as planned", () => {
  const every = (referenceEvery: number) =>
    conditions({ ...plan, outputFactors: { ...plan.outputFactors, referenceEvery } }).filter(
      (name) => name === "100x100",
    );
  expect(every(0)).toHaveLength(1);
  expect(every(1)).toHaveLength(7);
  expect(every(4)).toHaveLength(3);
});

test("each condition is read as often as planned, at equal intervals, and numbered through", () => {
  const shots = schedule({ ...plan, repeats: 3 });
  expect(shots.map(({ number }) => number)).toEqual(shots.map((_, i) => i));
  const long = shots.filter(({ condition }) => condition === "long");
  expect(long).toHaveLength(3);
  expect(long.map(({ time_s }) => time_s - long[0]!.time_s)).toEqual([0, 48, 96]);
  expect(new Set(long.map(({ setup }) => setup)).size).toBe(1);
  expect(long[0]).toMatchObject({
    series: "separation",
    mu: 200,
    duration_s: 30,
    angle_deg: 90,
    dose: 1,
    light: [1, 1],
  });
  const times = shots.map(({ time_s }) => time_s);
  expect(times).toEqual([...times].sort((a, b) => a - b));
});

test("with the beam off there are no monitor units and no field", () => {
  const dark = schedule(plan).filter(({ series }) => series === "background");
  expect(dark).toHaveLength(10);
  expect(dark.every(({ mu, field }) => mu === 0 && field === undefined)).toBe(true);
});

test("what is not planned is not done, and a rest delays what follows", () => {
  const { background: _b, calibration: _c, ...rest } = plan;
  const series = new Set(schedule(rest).map((shot) => shot.series));
  expect([...series]).toEqual(["separation", "output-factors"]);
  const firstField = (own: Plan) => schedule(own).find((shot) => shot.series === "output-factors")!.time_s;
  expect(firstField({ ...plan, rest_s: 86_400 }) - firstField(plan)).toBe(86_400);
});

test("an angle is passed on", () => {
  const separation = plan.separation.map((own) => ({ ...own, angle_deg: 45 }));
  expect(schedule({ ...plan, separation }).find((shot) => shot.series === "separation")!.angle_deg).toBe(45);
});

test("the fields are known by series and name", () => {
  const meant = meantFields(plan);
  expect([...meant["output-factors"].keys()]).toEqual([
    "100x100",
    "60x60",
    "30x30",
    "20x16",
    "10x10",
    "cone-7.5",
    "cone-5",
  ]);
  expect(meant.separation.get("long")!.fibre_mm).toBe(400);
  expect(meant.background.size).toBe(0);
});

test.each<[string, Plan, RegExp]>([
  ["two fields of one name", { ...plan, separation: [plan.separation[0]!, plan.separation[0]!] }, /two fields short/],
  ["no repeats", { ...plan, repeats: 0 }, /repeats/],
  ["half a repeat", { ...plan, repeats: 2.5 }, /repeats/],
  ["a background without readings", { ...plan, background: { before: 0, after: 0, duration_s: 30 } }, /background/],
])("%s: the plan is refused", (_, own, words) => {
  expect(() => schedule(own)).toThrow(words);
});
