import { describe, expect, it } from "vitest";
import { inventedCampaign } from "./testing/invented-campaign.ts";
import { type TestServer, testServer } from "./testing/test-server.ts";

const key = (number: number) => `8b9f1f43-4d2c-4b5e-9d0e-${String(number).padStart(12, "0")}`;
const reading = (number: number, note = "") => ({
  table: "background",
  cells: {
    reading: `x${number}`,
    condition: "dark",
    duration_s: "60",
    signal_blue: "0.01",
    signal_green: "0.01",
    note,
  },
  ...{ why: "console", key: key(number) },
});

async function withCampaign() {
  const server = await testServer();
  const cookie = await server.login();
  await server.ask("POST", "/api/campaigns", { cookie, body: { campaign: inventedCampaign(), why: "first import" } });
  const add = async (body: object) => server.ask("POST", "/api/campaigns/invented-fields/readings", { cookie, body });
  return { server, cookie, add };
}
const rowsOf = async (server: TestServer, cookie: string) =>
  (await server.ask("GET", "/api/campaigns/invented-fields", { cookie }))
    .json<{ campaign: { tables: { background: { rows: string[][] } } } }>()
    .campaign.tables.background.rows.map(([name]) => name);

describe("a disk", () => {
  it("that is full: the reading is not acknowledged, the answer says what to do, and it goes on when there is room", async () => {
    const { server, cookie, add } = await withCampaign();
    // SQLite's own limit gives the same error as a disk without room
    const [{ page_count: pages }] = server.archive.file.rows("PRAGMA page_count") as [{ page_count: number }];
    server.archive.file.rows(`PRAGMA max_page_count = ${pages}`);
    const large = reading(1, "x".repeat(19_000));
    const refused = [await add(large), await add(reading(2, "x".repeat(19_000)))].at(-1)!;
    expect(refused.statusCode).toBe(507);
    expect(refused.json()).toMatchObject({
      type: "urn:alcedo:problem:cannot-store",
      detail: "The disk is full; nothing was kept.",
      remedy: "Make room and do it again: what was acknowledged before is safe.",
    });
    const before = await rowsOf(server, cookie);
    expect(before).not.toContain("x2");
    server.archive.file.rows("PRAGMA max_page_count = 1000000");
    expect((await add(reading(2, "x".repeat(19_000)))).statusCode).toBe(200);
    expect(await rowsOf(server, cookie)).toEqual([...before, "x2"]);
    expect((await server.ask("GET", "/api/audit", { cookie })).json()).toMatchObject({ faults: [] });
    expect(server.faults).toEqual([]);
  });

  it("that may not be written: reading goes on, and the answer says what to do", async () => {
    const { server, cookie, add } = await withCampaign();
    server.archive.file.rows("PRAGMA query_only = 1"); // SQLite's own error of a file that is read-only
    const refused = await add(reading(1));
    expect([refused.statusCode, refused.json<{ remedy: string }>().remedy]).toEqual([
      507,
      expect.stringContaining("right to write"),
    ]);
    expect(await rowsOf(server, cookie)).toEqual(["b1", "b2"]);
  });
});
