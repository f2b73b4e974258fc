import { audit, isGenuine, type SignedStatement } from "@alcedo-dosimetry/archive";
import { describe, expect, it } from "vitest";
import { inventedCampaign } from "./testing/invented-campaign.ts";
import { PASSPHRASE, testServer } from "./testing/test-server.ts";

type Signed = SignedStatement & { readonly isCurrent: boolean };
interface Sample {
  readonly readings: readonly {
    readonly table: string;
    readonly reading: string;
    readonly columns: readonly string[];
  }[];
}

/** An evaluated campaign, and two people. */
async function readyToSign() {
  const server = await testServer();
  const cookie = await server.login("j.doe");
  const other = await server.login("a.roe");
  const kept = await server.ask("POST", "/api/campaigns", {
    cookie,
    body: { campaign: inventedCampaign(), why: "first import" },
  });
  const { revision: after } = kept.json<{ revision: number }>();
  const evaluation = await server.ask("POST", "/api/campaigns/invented-fields/evaluation", { cookie, body: { after } });
  const { digest } = evaluation.json<{ digest: string }>();
  const sign = async (by = cookie, passphrase = PASSPHRASE) =>
    server.ask("POST", "/api/campaigns/invented-fields/sign", {
      cookie: by,
      body: { after, digest, passphrase, meaning: "measured" },
    });
  const review = async (by: string, body: object) =>
    server.ask("POST", "/api/campaigns/invented-fields/review", {
      cookie: by,
      body: { after, digest, passphrase: PASSPHRASE, entered: [], ...body },
    });
  const sample = async () => server.ask("GET", "/api/campaigns/invented-fields/review", { cookie: other });
  return { server, cookie, other, after, digest, sign, review, sample };
}

/** What the paper says of a sample: the readings as they were typed, with a decimal comma. */
function fromPaper({ readings }: Sample) {
  const { tables } = inventedCampaign();
  return readings.flatMap(({ table, reading, columns }) =>
    columns.map((column) => {
      const { columns: names, rows } = tables[table]!;
      const text = rows.find(([name]) => name === reading)![names.indexOf(column)]!.replace(".", ",");
      return { table, reading, column, text };
    }),
  );
}

describe("a signature", () => {
  it("is asked a passphrase for, and stands under campaign, evaluation and seal", async () => {
    const { server, sign, after, digest } = await readyToSign();
    const wrong = await sign(undefined, "not my passphrase");
    expect([wrong.statusCode, wrong.json<{ type: string }>().type]).toEqual([
      401,
      "urn:alcedo:problem:wrong-passphrase",
    ]);
    const answer = await sign();
    expect(answer.statusCode).toBe(200);
    const [signed] = answer.json<{ signed: [Signed] }>().signed;
    expect(signed).toMatchObject({
      campaign: "invented-fields",
      revision: after,
      evaluation: digest,
      who: "j.doe",
      meaning: "measured",
      isCurrent: true,
    });
    expect(isGenuine(signed)).toBe(true);
    expect(isGenuine({ ...signed, revision: after + 1 })).toBe(false);
    expect((await audit(server.archive)).faults).toEqual([]);
  });

  it("is not given to what the evaluation is not of, nor after a change", async () => {
    const { server, cookie, sign, after } = await readyToSign();
    const body = { after, digest: `sha256:${"0".repeat(64)}`, passphrase: PASSPHRASE, meaning: "measured" };
    expect(
      (await server.ask("POST", "/api/campaigns/invented-fields/sign", { cookie, body })).statusCode,
    ).toBeGreaterThanOrEqual(400);
    const edits = [{ cell: { table: "background", row: 0, column: "note", text: "x" } }];
    const key = "8b9f1f43-4d2c-4b5e-9d0e-0a2f0c1f7a55";
    await server.ask("POST", "/api/campaigns/invented-fields/edits", {
      cookie,
      body: { after, edits, why: "late", key },
    });
    const late = await sign();
    expect([late.statusCode, late.json()]).toMatchObject([
      409,
      { type: "urn:alcedo:problem:conflict", revision: expect.any(Number) as number },
    ]);
  });

  it("is printed in the documents with its evaluation and its seal, and no longer once the campaign has changed", async () => {
    const { server, cookie, sign, after, digest } = await readyToSign();
    const record = async () =>
      (await server.ask("GET", "/api/campaigns/invented-fields/document?kind=record&format=html", { cookie })).body;
    expect(await record()).not.toContain(digest);
    const [signed] = (await sign()).json<{ signed: [Signed] }>().signed;
    const printed = await record();
    for (const text of [digest, signed.head, signed.publicKey, "(j.doe)"]) expect(printed).toContain(text);
    const edits = [{ cell: { table: "background", row: 0, column: "signal_blue", text: "0.02" } }];
    const key = "8b9f1f43-4d2c-4b5e-9d0e-0a2f0c1f7a55";
    await server.ask("POST", "/api/campaigns/invented-fields/edits", {
      cookie,
      body: { after, edits, why: "late", key },
    });
    expect(await record()).not.toContain(signed.head);
  });

  it("stays when the campaign changes later, and says that it is not of what is there now", async () => {
    const { server, cookie, sign, after } = await readyToSign();
    await sign();
    const edits = [{ cell: { table: "background", row: 0, column: "signal_blue", text: "0.02" } }];
    const key = "8b9f1f43-4d2c-4b5e-9d0e-0a2f0c1f7a55";
    await server.ask("POST", "/api/campaigns/invented-fields/edits", {
      cookie,
      body: { after, edits, why: "late", key },
    });
    const { signed } = (await server.ask("GET", "/api/campaigns/invented-fields", { cookie })).json<{
      signed: Signed[];
    }>();
    expect(signed.map(({ isCurrent }) => isCurrent)).toEqual([false]);
  });

  it("cannot be had by guessing the passphrase of a page that was left open", async () => {
    const { server, sign } = await readyToSign();
    for (let number = 0; number < 5; number++) expect((await sign(undefined, `guess ${number}`)).statusCode).toBe(401);
    expect((await sign()).statusCode).toBe(429);
    server.wait(31_000);
    expect((await sign()).statusCode).toBe(200);
  });
});

describe("a review", () => {
  it("is drawn from the measurer's signature: names of readings, no values", async () => {
    const { sample, sign } = await readyToSign();
    expect((await sample()).statusCode).toBe(422); // nothing is signed yet
    await sign();
    const { readings } = (await sample()).json<Sample>();
    expect(readings.length).toBe(3);
    expect(JSON.stringify(readings)).not.toMatch(/\d\.\d/);
  });

  it("is another person's, and agrees when what was typed from paper is what is kept", async () => {
    const { cookie, other, review, sample, sign } = await readyToSign();
    await sign();
    const drawn = (await sample()).json<Sample>();
    const entered = fromPaper(drawn);
    const own = await review(cookie, { verdict: "agrees", entered });
    expect([own.statusCode, own.json<{ type: string }>().type]).toEqual([403, "urn:alcedo:problem:not-allowed"]);
    const slip = await review(other, {
      verdict: "agrees",
      entered: entered.map((cell, number) => (number === 0 ? { ...cell, text: "9,9" } : cell)),
    });
    const { table, reading, column } = entered[0]!;
    expect([slip.statusCode, slip.json<{ places: object[] }>().places]).toEqual([422, [{ table, reading, column }]]);
    const agreed = await review(other, { verdict: "agrees", entered });
    expect(agreed.json<{ signed: Signed[] }>().signed.map(({ who, meaning }) => [who, meaning])).toEqual([
      ["j.doe", "measured"],
      ["a.roe", "agrees"],
    ]);
  });

  it("may give the campaign back, with a reason", async () => {
    const { other, review, sign } = await readyToSign();
    await sign();
    expect((await review(other, { verdict: "returned" })).statusCode).toBe(422);
    const returned = await review(other, { verdict: "returned", reason: "the dose of r3 is another on paper" });
    expect(returned.json<{ signed: Signed[] }>().signed.at(-1)).toMatchObject({
      meaning: "returned",
      reason: "the dose of r3 is another on paper",
    });
  });
});
