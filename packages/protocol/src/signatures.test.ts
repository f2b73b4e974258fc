import { describe, expect, it } from "vitest";
import { reviewRequestSchema, signRequestSchema } from "./signatures.ts";

const digest = `sha256:${"0".repeat(64)}`;
const review = { after: 3, digest, passphrase: "words", verdict: "agrees", entered: [] };

describe("signing", () => {
  it("names the evaluation by its digest and asks for the passphrase", () => {
    const sign = { after: 3, digest, passphrase: "words", meaning: "measured" };
    expect(signRequestSchema.safeParse(sign).success).toBe(true);
    expect(signRequestSchema.safeParse({ ...sign, digest: "sha256:0" }).success).toBe(false);
    expect(signRequestSchema.safeParse({ ...sign, passphrase: "" }).success).toBe(false);
    expect(signRequestSchema.safeParse({ ...sign, meaning: "agrees" }).success).toBe(false);
  });

  it("needs a reason where a campaign is returned", () => {
    expect(reviewRequestSchema.safeParse(review).success).toBe(true);
    for (const reason of [undefined, "", "  "])
      expect(reviewRequestSchema.safeParse({ ...review, verdict: "returned", reason }).success).toBe(false);
    expect(reviewRequestSchema.safeParse({ ...review, verdict: "returned", reason: "dose" }).success).toBe(true);
  });
});
