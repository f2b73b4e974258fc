import { describe, expect, it } from "vitest";
import { inventedCampaign } from "./testing/invented-campaign.ts";
import { testServer } from "./testing/test-server.ts";

const keep = (name?: string, fibre?: string) => ({ campaign: inventedCampaign(name, fibre), why: "first import" });
const key = (number: number) => `8b9f1f43-4d2c-4b5e-9d0e-${String(number).padStart(12, "0")}`;
const cells = (reading: string) => ({
  ...{ reading, condition: "dark", duration_s: "60", signal_blue: "0.0120", signal_green: "0.009" },
});

async function withCampaign() {
  const server = await testServer();
  const cookie = await server.login();
  const kept = await server.ask("POST", "/api/campaigns", { cookie, body: keep() });
  expect(kept.statusCode).toBe(200);
  const { revision } = kept.json<{ revision: number }>();
  return { server, cookie, revision };
}

describe("campaigns", () => {
  it("are kept and given back as they were typed, to the order of their keys", async () => {
    const { server, cookie, revision } = await withCampaign();
    const { statusCode, body } = await server.ask("GET", "/api/campaigns/invented-fields", { cookie });
    expect(statusCode).toBe(200);
    const given = JSON.parse(body) as { id: string; revision: number; campaign: unknown; signed: unknown };
    expect(JSON.stringify(given.campaign)).toBe(JSON.stringify(inventedCampaign()));
    expect(given).toMatchObject({ id: "invented-fields", revision, signed: [] });
  });

  it("are kept once under a name", async () => {
    const { server, cookie } = await withCampaign();
    const again = await server.ask("POST", "/api/campaigns", { cookie, body: keep() });
    expect(again.statusCode).toBe(409);
    expect(again.json()).toMatchObject({
      type: "urn:alcedo:problem:exists",
      remedy: expect.stringContaining("name") as string,
    });
  });

  it("are listed with the last changed first, in pages, found by words, with the standing of a current evaluation", async () => {
    const { server, cookie, revision } = await withCampaign();
    await server.ask("POST", "/api/campaigns", { cookie, body: keep("other", "F-2") });
    const evaluation = { after: revision };
    expect(
      (await server.ask("POST", "/api/campaigns/invented-fields/evaluation", { cookie, body: evaluation })).statusCode,
    ).toBe(200);
    const list = async (query = "") =>
      (await server.ask("GET", `/api/campaigns${query}`, { cookie })).json<{
        campaigns: { id: string; standing?: string }[];
        next?: number;
      }>();
    const all = await list();
    expect(all.campaigns.map(({ id, standing }) => [id, standing])).toEqual([
      ["other", undefined],
      ["invented-fields", "untested"],
    ]);
    expect(all.next).toBeUndefined();
    expect((await list("?fibre=F-2")).campaigns.map(({ id }) => id)).toEqual(["other"]);
    expect((await list("?words=INVENTED-f")).campaigns.map(({ id }) => id)).toEqual(["invented-fields"]);
    expect((await list(`?after=${revision + 1}`)).campaigns.map(({ id }) => id)).toEqual(["invented-fields"]);
    // another reading: the evaluation is of what the campaign is no more
    const body = { table: "background", cells: cells("b3"), why: "console", key: key(1) };
    await server.ask("POST", "/api/campaigns/invented-fields/readings", { cookie, body });
    expect((await list("?words=invented-f")).campaigns[0]!.standing).toBeUndefined();
  });

  it("come in pages of 100", async () => {
    const server = await testServer();
    const cookie = await server.login();
    for (let number = 0; number < 101; number++)
      await server.ask("POST", "/api/campaigns", { cookie, body: keep(`c-${number}`) });
    const ask = async (query: string) =>
      (await server.ask("GET", `/api/campaigns${query}`, { cookie })).json<{
        campaigns: { id: string }[];
        next?: number;
      }>();
    const first = await ask("");
    expect([first.campaigns.length, first.campaigns[0]!.id]).toEqual([100, "c-100"]);
    const second = await ask(`?after=${first.next}`);
    expect([second.campaigns.map(({ id }) => id), second.next]).toEqual([["c-0"], undefined]);
  });

  it("that are not there are no campaigns, in words", async () => {
    const { server, cookie } = await withCampaign();
    for (const path of ["", "/history", "/recheck", "/document", "/export"]) {
      const answer = await server.ask("GET", `/api/campaigns/nowhere${path}`, { cookie });
      expect([path, answer.statusCode, answer.json<{ type: string }>().type]).toEqual([
        path,
        404,
        "urn:alcedo:problem:unknown",
      ]);
    }
  });

  it("are refused where they do not fit, with the place", async () => {
    const { server, cookie } = await withCampaign();
    const campaign = inventedCampaign("bad");
    const background = { ...campaign.tables["background"]!, rows: [["b1"]] };
    const body = { campaign: { ...campaign, tables: { background } }, why: "first import" };
    const answer = await server.ask("POST", "/api/campaigns", { cookie, body });
    expect(answer.statusCode).toBe(422);
    expect(answer.json<{ faults: { at: string }[] }>().faults.map(({ at }) => at)).toContain(
      "campaign.tables.background.rows",
    );
  });
});

describe("changes", () => {
  it("are revisions of whoever is logged in, with their reason", async () => {
    const { server, cookie, revision } = await withCampaign();
    const cell = { table: "background", row: 0, column: "signal_blue", text: "0.0125" };
    const body = { after: revision, edits: [{ cell }], why: "typed a digit too few", key: key(1) };
    const answer = await server.ask("POST", "/api/campaigns/invented-fields/edits", { cookie, body });
    expect([answer.statusCode, answer.json()]).toEqual([200, { revision: expect.any(Number) as number }]);
    const history = (await server.ask("GET", "/api/campaigns/invented-fields/history", { cookie })).json<object[]>();
    expect(history).toEqual([
      { revision, who: "j.doe", when: expect.stringMatching(/^2026-03-14T/) as string, why: "first import" },
      {
        revision: answer.json<{ revision: number }>().revision,
        who: "j.doe",
        when: expect.any(String) as string,
        why: body.why,
      },
    ]);
    const kept = await server.ask("GET", "/api/campaigns/invented-fields", { cookie });
    expect(
      kept.json<{ campaign: { tables: { background: { rows: string[][] } } } }>().campaign.tables.background.rows[0],
    ).toContain("0.0125");
    const before = await server.ask("GET", `/api/campaigns/invented-fields?revision=${revision}`, { cookie });
    expect(before.json<{ campaign: object }>().campaign).toEqual(inventedCampaign());
  });

  it("made to what is not the latest any more are refused with the latest revision", async () => {
    const { server, cookie, revision } = await withCampaign();
    const edit = (text: string, number: number) => ({
      after: revision,
      edits: [{ cell: { table: "background", row: 0, column: "note", text } }],
      ...{ why: "typed", key: key(number) },
    });
    const first = await server.ask("POST", "/api/campaigns/invented-fields/edits", { cookie, body: edit("one", 1) });
    const second = await server.ask("POST", "/api/campaigns/invented-fields/edits", { cookie, body: edit("two", 2) });
    expect([first.statusCode, second.statusCode]).toEqual([200, 409]);
    expect(second.json()).toMatchObject({
      type: "urn:alcedo:problem:conflict",
      revision: first.json<{ revision: number }>().revision,
    });
    const undo = { after: revision, why: "not that" };
    expect((await server.ask("POST", "/api/campaigns/invented-fields/undo", { cookie, body: undo })).statusCode).toBe(
      409,
    );
  });

  it("sent again under their key are answered as the first time, and made once", async () => {
    const { server, cookie, revision } = await withCampaign();
    const edits = [{ cell: { table: "background", row: 0, column: "note", text: "x" } }];
    const bodies = [
      ["edits", { after: revision, edits, why: "typed", key: key(1) }],
      ["readings", { table: "background", cells: cells("b3"), why: "console", key: key(2) }],
    ] as const;
    for (const [what, body] of bodies) {
      const send = async () => server.ask("POST", `/api/campaigns/invented-fields/${what}`, { cookie, body });
      const [first, second] = [await send(), await send()];
      expect([what, second.statusCode, second.json()]).toEqual([what, 200, first.json()]);
    }
    const history = (await server.ask("GET", "/api/campaigns/invented-fields/history", { cookie })).json<object[]>();
    expect(history.length).toBe(3);
  });

  it("that do not fit say what is the matter", async () => {
    const { server, cookie, revision } = await withCampaign();
    const edit = async (edits: object[], number: number) =>
      server.ask("POST", "/api/campaigns/invented-fields/edits", {
        cookie,
        body: { after: revision, edits, why: "typed", key: key(number) },
      });
    const noTable = await edit([{ cell: { table: "nothing", row: 0, column: "note", text: "x" } }], 1);
    expect([noTable.statusCode, noTable.json()]).toEqual([
      422,
      expect.objectContaining({
        detail: "The campaign has no table nothing.",
        remedy: "Its tables are background, separation.",
      }),
    ]);
    const noRow = await edit([{ cell: { table: "background", row: 9, column: "note", text: "x" } }], 2);
    expect(noRow.json<{ detail: string }>().detail).toContain("no row 10");
    const twice = { table: "background", cells: cells("b1"), why: "console", key: key(3) };
    const reading = await server.ask("POST", "/api/campaigns/invented-fields/readings", { cookie, body: twice });
    expect([reading.statusCode, reading.json<{ detail: string }>().detail]).toEqual([
      422,
      "The table background has a reading b1 already.",
    ]);
  });

  it("are taken back as new revisions", async () => {
    const { server, cookie } = await withCampaign();
    const body = { table: "background", cells: cells("b3"), why: "console", key: key(1) };
    const { revision } = (await server.ask("POST", "/api/campaigns/invented-fields/readings", { cookie, body })).json<{
      revision: number;
    }>();
    const undone = await server.ask("POST", "/api/campaigns/invented-fields/undo", {
      cookie,
      body: { after: revision, why: "typed twice" },
    });
    expect(undone.json()).toMatchObject({ revision: revision + 1, campaign: inventedCampaign() });
  });
});
