import { evaluate } from "@alcedo-dosimetry/campaign";
import { describe, expect, it } from "vitest";
import { inventedCampaign } from "./testing/invented-campaign.ts";
import { testServer } from "./testing/test-server.ts";

async function withCampaign(campaign = inventedCampaign()) {
  const server = await testServer();
  const cookie = await server.login();
  const kept = await server.ask("POST", "/api/campaigns", { cookie, body: { campaign, why: "first import" } });
  const { revision } = kept.json<{ revision: number }>();
  return { server, cookie, revision };
}

/** As typed by somebody who left the signal of one reading out: it cannot be evaluated. */
function brokenCampaign() {
  const campaign = inventedCampaign("broken");
  const { separation } = campaign.tables;
  return {
    ...campaign,
    tables: {
      ...campaign.tables,
      separation: { ...separation!, columns: separation!.columns.map((name) => (name === "role" ? "rule" : name)) },
    },
  };
}

describe("the server's evaluation", () => {
  it("is the page's to the last bit, kept once, with its digest", async () => {
    const { server, cookie, revision } = await withCampaign();
    const ask = async () =>
      server.ask("POST", "/api/campaigns/invented-fields/evaluation", { cookie, body: { after: revision } });
    const [first, second] = [await ask(), await ask()];
    expect(JSON.stringify(first.json<{ result: object }>().result)).toBe(
      JSON.stringify(evaluate(inventedCampaign()).result),
    );
    expect(first.json<{ digest: string }>().digest).toMatch(/^sha256:[0-9a-f]{64}$/);
    expect(second.body).toBe(first.body);
    const { revisions } = (await server.ask("GET", "/api/audit", { cookie })).json<{ revisions: number }>();
    expect((await ask()).statusCode).toBe(200);
    expect((await server.ask("GET", "/api/audit", { cookie })).json()).toMatchObject({ revisions, faults: [] });
  });

  it("of a revision that is not the latest any more is refused", async () => {
    const { server, cookie, revision } = await withCampaign();
    const answer = await server.ask("POST", "/api/campaigns/invented-fields/evaluation", {
      cookie,
      body: { after: revision + 1 },
    });
    expect([answer.statusCode, answer.json()]).toMatchObject([409, { revision }]);
  });

  it("of a campaign that cannot be evaluated is its findings", async () => {
    const { server, cookie, revision } = await withCampaign(brokenCampaign());
    const answer = await server.ask("POST", "/api/campaigns/broken/evaluation", { cookie, body: { after: revision } });
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toMatchObject({ result: { standing: "broken", quantities: [] } });
  });
});

describe("the second route", () => {
  it("stands beside the first", async () => {
    const { server, cookie } = await withCampaign();
    const rows = (await server.ask("GET", "/api/campaigns/invented-fields/recheck", { cookie })).json<
      { id: string; value: number; recheckValue: number }[]
    >();
    const ratio = rows.find(({ id }) => id === "separation.stem-ratio")!;
    expect(Math.abs(ratio.value / ratio.recheckValue - 1)).toBeLessThan(1e-9);
  });

  it("does not run on what cannot be evaluated; documents and trials neither", async () => {
    const { server, cookie } = await withCampaign(brokenCampaign());
    for (const [method, path, body] of [
      ["GET", "recheck", undefined],
      ["GET", "document", undefined],
      ["GET", "export?as=results", undefined],
      ["POST", "monte-carlo", { trials: 1000, seed: 1 }],
    ] as const) {
      const answer = await server.ask(method, `/api/campaigns/broken/${path}`, { cookie, ...(body && { body }) });
      expect([path, answer.statusCode]).toEqual([path, 422]);
      expect(answer.json<{ findings: unknown[] }>().findings.length).toBeGreaterThan(0);
    }
  });
});

describe("Monte Carlo", () => {
  it("gives the same figures for the same seed", async () => {
    const { server, cookie } = await withCampaign();
    const ask = async (seed: number) =>
      (
        await server.ask("POST", "/api/campaigns/invented-fields/monte-carlo", {
          cookie,
          body: { trials: 10_000, seed },
        })
      ).body;
    const first = await ask(1);
    expect(JSON.parse(first)).toMatchObject({ monteCarlo: { seed: 1 } });
    expect(await ask(1)).toBe(first);
    expect(await ask(2)).not.toBe(first);
  });
});

describe("documents", () => {
  it("come as PDF and as HTML, which runs nothing and stands in a box of its own", async () => {
    const { server, cookie } = await withCampaign();
    const pdf = await server.ask("GET", "/api/campaigns/invented-fields/document?kind=record", { cookie });
    expect([pdf.statusCode, pdf.headers["content-type"], pdf.rawPayload.subarray(0, 5).toString()]).toEqual([
      200,
      "application/pdf",
      "%PDF-",
    ]);
    const html = await server.ask("GET", "/api/campaigns/invented-fields/document?format=html", { cookie });
    expect(html.headers["content-disposition"]).toBe('inline; filename="invented-fields-record.html"');
    expect(html.headers["content-security-policy"]).toMatch(
      /^default-src 'none'; style-src 'unsafe-inline';.*; sandbox$/,
    );
    expect(html.headers["x-content-type-options"]).toBe("nosniff");
    expect(html.body).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(html.body).not.toMatch(/<script|<img src=x/);
  });
});

describe("exports", () => {
  it("of workbooks hold texts as texts: nothing that begins like a formula is one", async () => {
    const { server, cookie } = await withCampaign();
    const { unzipSync, strFromU8 } = await import("fflate");
    for (const as of ["xlsx", "results"]) {
      const file = await server.ask("GET", `/api/campaigns/invented-fields/export?as=${as}`, { cookie });
      expect([as, file.statusCode]).toEqual([as, 200]);
      expect(file.headers["content-disposition"]).toMatch(/^attachment; filename="invented-fields(-results)?\.xlsx"$/);
      const parts = Object.entries(unzipSync(new Uint8Array(file.rawPayload)));
      const all = parts.map(([, bytes]) => strFromU8(bytes)).join("\n");
      expect(all).toContain("=HYPERLINK(1)");
      expect(all).not.toMatch(/<f>[^<]*HYPERLINK|<f>[^<]*SUM\(1\)/);
    }
  });

  it("taken in again give the same campaign; what is no campaign is refused with findings", async () => {
    const { server, cookie } = await withCampaign();
    const file = await server.ask("GET", "/api/campaigns/invented-fields/export?as=xlsx", { cookie });
    const twice = await server.ask("POST", "/api/campaigns/import?name=again.xlsx", {
      cookie,
      body: new Uint8Array(file.rawPayload),
    });
    expect([twice.statusCode, twice.json<{ type: string }>().type]).toEqual([409, "urn:alcedo:problem:exists"]);
    const other = await testServer();
    const theirs = await other.login();
    const taken = await other.ask("POST", "/api/campaigns/import?name=again.xlsx", {
      cookie: theirs,
      body: new Uint8Array(file.rawPayload),
    });
    expect(taken.statusCode).toBe(200);
    const here = await server.ask("POST", "/api/campaigns/invented-fields/evaluation", { cookie, body: { after: 1 } });
    const there = await other.ask("POST", "/api/campaigns/invented-fields/evaluation", {
      cookie: theirs,
      body: { after: 1 },
    });
    expect(there.json<{ digest: string }>().digest).toBe(here.json<{ digest: string }>().digest);
    const junk = await server.ask("POST", "/api/campaigns/import?name=junk.xlsx", {
      cookie,
      body: new TextEncoder().encode("no workbook"),
    });
    expect(junk.statusCode).toBe(422);
    expect(junk.json<{ findings: { code: string }[] }>().findings.length).toBeGreaterThan(0);
  });
});

describe("zip files", () => {
  it("taken out, in and out again are the same to the byte", async () => {
    const { server, cookie } = await withCampaign();
    const first = await server.ask("GET", "/api/campaigns/invented-fields/export?as=zip", { cookie });
    expect([first.statusCode, first.headers["content-type"]]).toEqual([200, "application/zip"]);
    const other = await testServer();
    const theirs = await other.login();
    const taken = await other.ask("POST", "/api/campaigns/import?name=fields.zip", {
      ...{ cookie: theirs, body: new Uint8Array(first.rawPayload) },
    });
    expect([taken.statusCode, taken.json<{ campaign: { tables: object } }>().campaign.tables]).toEqual([
      ...[200, inventedCampaign().tables],
    ]);
    const second = await other.ask("GET", "/api/campaigns/invented-fields/export?as=zip", { cookie: theirs });
    expect(second.rawPayload.equals(first.rawPayload)).toBe(true);
  });

  it("with paths that lead out of their folder are refused, with the path, and nothing of them is kept", async () => {
    const { server, cookie } = await withCampaign();
    const { strToU8, zipSync } = await import("fflate");
    for (const path of ["../up.csv", "/etc/passwd", "C:/up.csv", "data\\up.csv"]) {
      const body = zipSync({ "datapackage.json": strToU8("{}"), [path]: strToU8("reading\n") });
      const answer = await server.ask("POST", "/api/campaigns/import?name=evil.zip", { cookie, body });
      expect([path, answer.statusCode]).toEqual([path, 422]);
      expect(answer.json<{ findings: { code: string }[] }>().findings.map(({ code }) => code)).toContain("zip-path");
    }
    const list = await server.ask("GET", "/api/campaigns", { cookie });
    expect(list.json<{ campaigns: unknown[] }>().campaigns.length).toBe(1);
  });
});

describe("fibres", () => {
  it("stand with their newest evaluation, and with what is due", async () => {
    const { server, cookie, revision } = await withCampaign();
    const fibres = async () =>
      (await server.ask("GET", "/api/fibres", { cookie })).json<
        { id: string; standing: string | null; due: string[] }[]
      >();
    expect(await fibres()).toMatchObject([
      { id: "F-1", standing: null, campaigns: 1, sensitivity: [], due: ["No campaign with it is evaluated yet."] },
    ]);
    await server.ask("POST", "/api/campaigns/invented-fields/evaluation", { cookie, body: { after: revision } });
    expect(await fibres()).toMatchObject([{ id: "F-1", standing: "untested", due: [] }]);
  });
});
