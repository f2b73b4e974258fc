import type { Signature } from "@alcedo-dosimetry/protocol";
import { describe, expect, test } from "vitest";
import { signedState, turnOf } from "./standing-of-signatures.ts";

const signature = (
  meaning: Signature["meaning"],
  who: string,
  revision = 7,
  more: Partial<Signature> = {},
): Signature => ({
  ...{ campaign: "cones", revision, input: "sha256:a", evaluation: `sha256:${revision}`, head: "h" },
  ...{ meaning, who, when: "2026-03-12T23:00:00Z", signature: "00", publicKey: "00", seq: 9, isCurrent: true },
  ...more,
});

describe("the signatures of a campaign", () => {
  test("are none at first: it is to be signed", () => {
    expect(signedState([])).toEqual({});
    expect(turnOf({}, "j.doe")).toEqual({ may: "sign" });
  });

  test("the one who measured cannot review; another person can", () => {
    const state = signedState([signature("measured", "j.doe")]);
    expect(turnOf(state, "j.doe")).toMatchObject({ may: "nothing" });
    expect(turnOf(state, "r.roe")).toEqual({ may: "review" });
  });

  test("both have signed", () => {
    const state = signedState([signature("measured", "j.doe"), signature("agrees", "r.roe")]);
    expect(state.agreed?.who).toBe("r.roe");
    expect(turnOf(state, "x.poe")).toMatchObject({
      may: "nothing",
      why: expect.stringContaining("new version") as string,
    });
  });

  test("a campaign that was given back says why; what was signed stays signed, and another person can still agree", () => {
    const state = signedState([signature("measured", "j.doe"), signature("returned", "r.roe", 7, { reason: "r034" })]);
    expect(state.returned?.reason).toBe("r034");
    expect(turnOf(state, "j.doe")).toMatchObject({
      may: "nothing",
      why: expect.stringContaining("Change what is to be changed") as string,
    });
    expect(turnOf(state, "r.roe")).toEqual({ may: "review" });
  });

  test("an agreement after that settles it", () => {
    const state = signedState([
      signature("measured", "j.doe"),
      signature("returned", "r.roe"),
      signature("agrees", "r.roe"),
    ]);
    expect(state.returned).toBeUndefined();
    expect(state.agreed?.who).toBe("r.roe");
  });

  test("changed and signed again after that, it is no longer given back", () => {
    const state = signedState([
      signature("measured", "j.doe"),
      signature("returned", "r.roe"),
      signature("measured", "j.doe", 8),
    ]);
    expect(state.returned).toBeUndefined();
    expect(state.measured?.revision).toBe(8);
  });

  test("a later change is not signed: it is somebody's turn to sign the new version", () => {
    const old = { isCurrent: false };
    const state = signedState([signature("measured", "j.doe", 7, old), signature("agrees", "r.roe", 7, old)]);
    expect(turnOf(state, "j.doe")).toEqual({ may: "sign" });
  });

  test("an agreement with another evaluation is none with this one", () => {
    const state = signedState([signature("measured", "j.doe", 8), signature("agrees", "r.roe", 7)]);
    expect(state.agreed).toBeUndefined();
  });
});
