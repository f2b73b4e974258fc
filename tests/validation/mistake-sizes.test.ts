/** A short version of `npm run mistakes`: two campaigns of each mistake at its stated size, both caught. */
import { MISTAKES, type MistakeKind } from "@alcedo-dosimetry/simulator";
import { expect, test } from "vitest";
import { mistakeRun } from "./mistake-run.ts";
import { MISTAKE_SIZES } from "./mistake-sizes.ts";

const CAMPAIGNS = 2;
const kinds = Object.keys(MISTAKES) as MistakeKind[];

test("every mistake has a stated size where it has a size at all, or a reason why nothing shows it", () => {
  expect(Object.keys(MISTAKE_SIZES).sort()).toEqual([...kinds].sort());
  for (const kind of kinds) {
    const stated = MISTAKE_SIZES[kind];
    if ("unseen" in stated) expect(`${stated.unseen}${stated.guard}`.length, kind).toBeGreaterThan(30);
    else expect(stated.size !== undefined, kind).toBe(MISTAKES[kind].size !== undefined);
  }
});

test("each is caught at its stated size, and not by being made of size nothing", { timeout: 120_000 }, () => {
  const missed = kinds.flatMap((kind) => {
    const stated = MISTAKE_SIZES[kind];
    if ("unseen" in stated) return [];
    const { noticed } = mistakeRun(kind, stated.size, stated.regime ?? "five-repeats", CAMPAIGNS);
    return noticed === CAMPAIGNS ? [] : [`${kind}: ${noticed} of ${CAMPAIGNS}`];
  });
  expect(missed).toEqual([]);
  for (const kind of ["dose-unequal", "gain-changed"] as const)
    expect(mistakeRun(kind, 0, "five-repeats", CAMPAIGNS).noticed, kind).toBe(0);
});
