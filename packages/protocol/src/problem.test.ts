import { describe, expect, it } from "vitest";
import { PROBLEMS, problemKind, problemSchema } from "./problem.ts";

describe("problems", () => {
  it("are told apart by their type", () => {
    for (const kind of Object.keys(PROBLEMS)) expect(problemKind({ type: `urn:alcedo:problem:${kind}` })).toBe(kind);
    for (const type of ["about:blank", "urn:alcedo:problem:", "urn:alcedo:problem:toString"])
      expect(problemKind({ type })).toBeUndefined();
  });

  it("have a status of HTTP that says error", () => {
    for (const status of Object.values(PROBLEMS)) expect(status >= 400 && status < 600).toBe(true);
  });

  it("say what is wrong and what to do", () => {
    const problem = {
      type: "urn:alcedo:problem:conflict",
      title: "t",
      status: 409,
      detail: "d",
      remedy: "r",
      revision: 7,
    };
    expect(problemSchema.parse(problem)).toEqual(problem);
    const { remedy: _remedy, ...less } = problem;
    expect(problemSchema.safeParse(less).success).toBe(false);
  });
});
