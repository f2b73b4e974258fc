import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { audit } from "./audit.ts";
import { excludeReading } from "./change-reading.ts";
import { editCampaign } from "./edit-campaign.ts";
import { signAs } from "./folder/index.ts";
import { historyOf } from "./history.ts";
import { keepEvaluation } from "./keep-evaluation.ts";
import { keepSignature, reviewSample } from "./keep-signature.ts";
import { changeSinceSigned, signaturesOf } from "./signatures-of.ts";
import { isGenuine, statementBytes, statementFor } from "./statement.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { passphraseOf, signed, withEvaluated, withPeople } from "./testing/people.ts";

/** An archive with two people and an evaluated campaign; `paper` is what a careful reviewer types again. */
async function ready() {
  const archive = await openTestArchive();
  const people = await withPeople(archive);
  const campaign = await withEvaluated(archive);
  const { id, after, digest } = campaign;
  const measured = { id, after, digest, meaning: "measured" } as const;
  return { archive, ...people, ...campaign, measured, agrees: { ...measured, meaning: "agrees" } as const };
}

async function paper(archive: Parameters<typeof reviewSample>[0], id: string, { tables }: Campaign) {
  return (await reviewSample(archive, id)).flatMap(({ table, reading, columns }) =>
    columns.map((column) => {
      const { columns: header, rows } = tables[table]!;
      const row = rows.find((cells) => cells[header.indexOf("reading")] === reading)!;
      return { table, reading, column, text: row[header.indexOf(column)]! };
    }),
  );
}

test("SIGN-1: a signature is Ed25519 over the canonical statement: of what, after which seal, what it means, who and when", async () => {
  const { archive, measurer, measured, digest } = await ready();
  const head = (await audit(archive)).seal;
  const kept = await signed(archive, measurer, measured);
  expect(kept).toMatchObject({
    campaign: "invented-fields",
    evaluation: digest,
    head,
    meaning: "measured",
    who: "m.one",
  });
  expect(new TextDecoder().decode(statementBytes(kept))).toBe(
    `{"campaign":"invented-fields","evaluation":"${digest}","head":"${head}","input":"${kept.input}","meaning":"measured",` +
      `"revision":${kept.revision},"when":"${kept.when}","who":"m.one"}`,
  );
  // made by the platform's cryptography, looked at by another library
  expect(isGenuine(kept)).toBe(true);
  for (const altered of [
    { ...kept, revision: kept.revision + 1 },
    { ...kept, who: "r.two" },
    { ...kept, reason: "x" },
    { ...kept, signature: kept.signature.replace(/^./, (digit) => (digit === "0" ? "1" : "0")) },
    { ...kept, signature: "no digits" },
    { ...kept, publicKey: "00".repeat(32) },
  ])
    expect(isGenuine(altered)).toBe(false);
});

test("SIGN-2: a statement that is altered, of another key, or in another's name is refused, and nothing is kept", async () => {
  const { archive, measurer, reviewer, measured, id } = await ready();
  const own = { ...archive, who: "m.one" };
  const statement = await statementFor(own, id, measured);
  const { publicKey } = measurer;
  const signature = await signAs(measurer, passphraseOf("m.one"), statementBytes(statement));
  const kept = { ...statement, signature, publicKey };
  const keep = async (altered: object, by = own) => keepSignature(by, { ...kept, ...altered }, { why: "signed" });
  await expect(keep({ when: "2020-01-01T00:00:00Z" })).rejects.toThrow(/does not fit what it stands under/);
  await expect(keep({ publicKey: reviewer.publicKey })).rejects.toThrow(/its key is not that of m.one/);
  await expect(keep({}, { ...archive, who: "r.two" })).rejects.toThrow(/in the name of m.one, and kept by r.two/);
  await expect(keep({ who: "nobody" }, { ...archive, who: "nobody" })).rejects.toMatchObject({ fault: "unknown" });
  expect(await signaturesOf(archive, id)).toEqual([]);
  await expect(keep({})).resolves.toMatchObject({ isCurrent: true });
});

test("SIGN-2: only the evaluation of the campaign as it is now can be signed", async () => {
  const { archive, measurer, measured, id, campaign } = await ready();
  const other = { ...measured, digest: `sha256:${"0".repeat(64)}` };
  await expect(signed(archive, measurer, other)).rejects.toThrow(/keeps no such evaluation/);
  await excludeReading(archive, id, { table: "separation", reading: "r1", reason: "spike" });
  await expect(signed(archive, measurer, measured)).rejects.toMatchObject({ fault: "conflict" });
  const early = { ...evaluate(campaign).result, alcedo: "0.0.9" };
  await expect(keepEvaluation(archive, id, early, "late")).rejects.toMatchObject({ fault: "conflict" });
});

test("SIGN-2: what this program does not evaluate to the last bit is not signed", async () => {
  const { archive, measurer, measured, id, campaign } = await ready();
  const early = { ...evaluate(campaign).result, alcedo: "0.0.9" };
  const { result: digest } = await keepEvaluation(archive, id, early, "by an earlier version");
  await expect(signed(archive, measurer, { ...measured, digest })).rejects.toThrow(
    /another version may have evaluated/,
  );
});

test("SIGN-2: a head of the seal that is none of this archive, or older than the evaluation, is refused", async () => {
  const { archive, measurer, measured, id } = await ready();
  const own = { ...archive, who: "m.one" };
  const [first] = archive.file.rows("select seal from revision where seq = 1");
  for (const head of ["0".repeat(64), String(first!["seal"])]) {
    const statement = { ...(await statementFor(own, id, measured)), head };
    const signature = await signAs(measurer, passphraseOf("m.one"), statementBytes(statement));
    const keep = keepSignature(own, { ...statement, signature, publicKey: measurer.publicKey }, { why: "signed" });
    await expect(keep).rejects.toThrow(/head of the seal/);
  }
});

test("SIGN-3: a reviewer comes after the measurer, and is another person", async () => {
  const { archive, measurer, reviewer, measured, agrees, id, campaign } = await ready();
  await expect(signed(archive, reviewer, agrees)).rejects.toThrow(/Nobody has signed the campaign/);
  await expect(reviewSample(archive, id)).rejects.toThrow(/Let the measurer sign first/);
  await signed(archive, measurer, measured);
  const entered = await paper(archive, id, campaign);
  await expect(signed(archive, measurer, { ...agrees, entered })).rejects.toMatchObject({ fault: "not-allowed" });
  await signed(archive, reviewer, { ...agrees, entered });
  expect((await signaturesOf(archive, id)).map(({ who, meaning }) => [who, meaning])).toEqual([
    ["m.one", "measured"],
    ["r.two", "agrees"],
  ]);
});

test("SIGN-3: whoever measured as well, after another, does not review either", async () => {
  const { archive, measurer, reviewer, measured, agrees, id, campaign } = await ready();
  await signed(archive, measurer, measured);
  await signed(archive, reviewer, measured);
  const entered = await paper(archive, id, campaign);
  await expect(signed(archive, reviewer, { ...agrees, entered })).rejects.toMatchObject({ fault: "not-allowed" });
});

test("SIGN-4: to return a campaign needs a reason, and only that", async () => {
  const { archive, measurer, reviewer, measured, id } = await ready();
  await signed(archive, measurer, measured);
  const returned = { ...measured, meaning: "returned" } as const;
  await expect(signed(archive, reviewer, { ...returned, reason: " " })).rejects.toThrow(/No reason is given/);
  await expect(signed(archive, reviewer, { ...measured, reason: "x" })).rejects.toThrow(/gives nothing back/);
  await signed(archive, reviewer, { ...returned, reason: "r2 reads 6.46 on paper" });
  expect((await signaturesOf(archive, id)).at(-1)).toMatchObject({
    meaning: "returned",
    reason: "r2 reads 6.46 on paper",
  });
});

test("SIGN-6: to agree needs the sample typed again: what differs is told by its place, and nothing is kept", async () => {
  const { archive, measurer, reviewer, measured, agrees, id, campaign } = await ready();
  await signed(archive, measurer, measured);
  const entered = await paper(archive, id, campaign);
  const wrong = entered.map((cell, i) => (i === 0 ? { ...cell, text: "99" } : cell));
  const [{ text: _text, ...place }] = entered as [(typeof entered)[number]];
  await expect(signed(archive, reviewer, { ...agrees, entered: wrong })).rejects.toMatchObject({
    ...{ fault: "invalid", places: [place] },
  });
  await expect(signed(archive, reviewer, agrees)).rejects.toMatchObject({ fault: "invalid" });
  expect(await signaturesOf(archive, id)).toHaveLength(1);
});

test("SIGN-7: the same person says the same once", async () => {
  const { archive, measurer, measured } = await ready();
  await signed(archive, measurer, measured);
  await expect(signed(archive, measurer, measured)).rejects.toMatchObject({ fault: "exists" });
});

test("SIGN-8: a signed evaluation is kept with its graph; a later change is told with the readings that made it", async () => {
  const { archive, measurer, measured, id, after } = await ready();
  const { seq } = await signed(archive, measurer, measured);
  const still = await changeSinceSigned(archive, id, seq);
  expect(still.revisions).toEqual([]);
  expect(still.quantities.length).toBeGreaterThan(3);
  for (const { before, after: now } of still.quantities) expect(now).toBe(before);

  const edits = [{ cell: { table: "separation", row: 3, column: "signal_green", text: "17,63" } }];
  const { revision } = await editCampaign(archive, id, { after, edits, why: "misread" });
  expect((await signaturesOf(archive, id))[0]).toMatchObject({ revision: after, isCurrent: false });
  const change = await changeSinceSigned(archive, id, seq);
  expect(change).toMatchObject({ revision, revisions: [{ seq: revision, who: "R. Tester", why: "misread" }] });
  const ratio = change.quantities.find((quantity) => quantity.id === "separation.stem-ratio")!;
  expect(ratio.attributions[0]).toMatchObject({ input: "separation/r4", columns: ["signal_green"] });
  expect(ratio.change).not.toBe(0);
  await expect(changeSinceSigned(archive, id, revision)).rejects.toMatchObject({ fault: "unknown" });
});

test("SIGN-8: what a signature froze can be neither changed nor deleted", async () => {
  const { archive, measurer, measured } = await ready();
  await signed(archive, measurer, measured);
  expect(() => archive.file.rows("update signature set who = 'r.two'")).toThrow("signature is append-only");
  expect(() => archive.file.rows("delete from signature")).toThrow("signature is append-only");
  expect(() => archive.file.rows("delete from person")).toThrow("person is append-only");
  expect(() => archive.file.rows("update change_key set seq = 1 where 0")).not.toThrow();
});

test("SIGN-7: after a change everybody signs the new version anew", async () => {
  const { archive, measurer, reviewer, measured, agrees, id, after } = await ready();
  await signed(archive, measurer, measured);
  const edits = [{ cell: { table: "separation", row: 3, column: "signal_green", text: "17,54" } }];
  const kept = await editCampaign(archive, id, { after, edits, why: "misread" });
  const { result: digest } = await keepEvaluation(archive, id, evaluate(kept.campaign).result, "official");
  const now = { after: kept.revision, digest };
  await expect(signed(archive, reviewer, { ...agrees, ...now })).rejects.toThrow(/Nobody has signed/);
  await signed(archive, measurer, { ...measured, ...now });
  await signed(archive, reviewer, { ...agrees, ...now, entered: await paper(archive, id, kept.campaign) });
  expect((await signaturesOf(archive, id)).map(({ isCurrent }) => isCurrent)).toEqual([false, true, true]);
  expect(await historyOf(archive, "signature", id)).toHaveLength(3);
  expect((await audit(archive)).faults).toEqual([]);
});
