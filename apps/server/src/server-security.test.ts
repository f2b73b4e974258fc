import { VERSION } from "@alcedo-dosimetry/campaign";
import { openApi } from "@alcedo-dosimetry/protocol";
import { describe, expect, it } from "vitest";
import { PAGE_POLICY } from "./security/headers.ts";
import { inventedCampaign } from "./testing/invented-campaign.ts";
import { HOST, testServer } from "./testing/test-server.ts";

interface Operation {
  readonly security?: readonly unknown[];
  readonly requestBody?: object;
}
const described = openApi("0.0.0") as { readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>> };
const operations = Object.entries(described.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, { security }]) => ({
    ...{ method: method.toUpperCase() as "GET" | "POST", path: path.replace("{id}", "invented-fields") },
    open: security?.length === 0,
  })),
);
const isProblem = "application/problem+json; charset=utf-8";

describe("without a login", () => {
  it("every route of the description but the open ones answers 401, whatever is sent", async () => {
    const server = await testServer();
    const closed = operations.filter(({ open }) => !open);
    expect(closed.length).toBeGreaterThan(20);
    for (const { method, path } of closed) {
      for (const cookie of [undefined, "alcedo=", `alcedo=${"a".repeat(43)}`, "alcedo=a; alcedo=b"]) {
        const { statusCode, headers } = await server.ask(method, path, cookie === undefined ? {} : { cookie });
        expect([method, path, statusCode, headers["content-type"]]).toEqual([method, path, 401, isProblem]);
      }
    }
  });

  it("the open routes are the description, the login and the one-time link, and the page with its assets", async () => {
    const server = await testServer();
    expect(operations.filter(({ open }) => open).map(({ path }) => path)).toEqual([
      "/api/openapi.json",
      "/api/first",
      "/api/login",
    ]);
    for (const path of ["/", "/campaigns/some/where", "/index.html"]) {
      const { statusCode, body, headers } = await server.ask("GET", path);
      expect([path, statusCode, body]).toEqual([path, 200, "<!doctype html><title>page</title>"]);
      expect(headers["cache-control"]).toBe("no-cache");
    }
    const asset = await server.ask("GET", "/assets/main-1.js");
    expect([asset.statusCode, asset.headers["cache-control"]]).toEqual([200, "public, max-age=31536000, immutable"]);
    expect((await server.ask("GET", "/assets/none.js")).statusCode).toBe(404);
    expect((await server.ask("GET", "/api/openapi.json")).json()).toEqual(JSON.parse(JSON.stringify(openApi(VERSION))));
  });

  it("a large body is not even read", async () => {
    const server = await testServer();
    const body = new Uint8Array(1 << 20);
    expect((await server.ask("POST", "/api/campaigns/import", { body })).statusCode).toBe(401);
  });
});

describe("a request out of another page", () => {
  it("is refused wherever something is changed, by its origin or by the browser's word", async () => {
    const server = await testServer();
    const cookie = await server.login();
    const body = { campaign: inventedCampaign(), why: "forged" };
    for (const headers of [
      { origin: "https://evil.example" },
      { origin: "null" },
      { origin: "http://127.0.0.1:8000" }, // another port of this machine: the same site, not the same origin
      { origin: `http://${HOST}.evil.example` },
      { origin: `http://x@${HOST}` },
      { "sec-fetch-site": "cross-site" },
      { "sec-fetch-site": "same-site" },
      { "sec-fetch-site": "none" },
    ]) {
      const { statusCode, json } = await server.ask("POST", "/api/campaigns", { cookie, body, headers });
      expect([headers, statusCode, json<{ type: string }>().type]).toEqual([
        headers,
        403,
        "urn:alcedo:problem:cross-site",
      ]);
    }
    const list = await server.ask("GET", "/api/campaigns", { cookie });
    expect(list.json<{ campaigns: unknown[] }>().campaigns).toEqual([]);
    const own = await server.ask("POST", "/api/campaigns", {
      cookie,
      body,
      headers: { "sec-fetch-site": "same-origin" },
    });
    expect(own.statusCode).toBe(200);
  });

  it("reads nothing either, but an address that is typed opens", async () => {
    const server = await testServer();
    const cookie = await server.login();
    const ask = async (site: string) =>
      server.ask("GET", "/api/campaigns", { cookie, headers: { "sec-fetch-site": site } });
    expect((await ask("cross-site")).statusCode).toBe(403);
    expect((await ask("same-site")).statusCode).toBe(403);
    expect((await ask("none")).statusCode).toBe(200);
  });

  it("cannot be a plain form: bodies are JSON or bytes", async () => {
    const server = await testServer();
    for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"]) {
      const headers = { "content-type": type };
      const { statusCode } = await server.ask("POST", "/api/login", { body: '{"id":"j","passphrase":"x"}', headers });
      expect([type, statusCode]).toEqual([type, 415]);
    }
  });
});

describe("a name that was let point here (DNS rebinding)", () => {
  it("is not the server's: nothing is answered, the page and the login included", async () => {
    const server = await testServer();
    const cookie = await server.login();
    for (const host of [
      "evil.example",
      "evil.example:4270",
      "127.0.0.1.evil.example",
      "127.0.0.1:4270@evil.example",
      "[::2]",
    ]) {
      for (const path of ["/", "/api/me", "/api/openapi.json", "/assets/main-1.js", "/nowhere"]) {
        const { statusCode } = await server.ask("GET", path, { cookie, headers: { host } });
        expect([host, path, statusCode]).toEqual([host, path, 421]);
      }
    }
    for (const host of ["127.0.0.1:4270", "localhost:9", "LOCALHOST"]) {
      expect((await server.ask("GET", "/api/me", { cookie, headers: { host } })).statusCode).toBe(200);
    }
  });
});

describe("every answer", () => {
  it("bears the headers that keep a browser from being used", async () => {
    const server = await testServer();
    const policy = Object.entries(PAGE_POLICY).map(([name, values]) => `${name} ${values.join(" ")}`);
    for (const path of ["/", "/assets/main-1.js", "/api/me", "/api/openapi.json", "/api/nowhere"]) {
      const { headers } = await server.ask("GET", path);
      expect(String(headers["content-security-policy"]).split(";")).toEqual(policy);
      expect(headers).toMatchObject({
        "x-content-type-options": "nosniff",
        "x-frame-options": "DENY",
        "referrer-policy": "no-referrer",
        "cross-origin-opener-policy": "same-origin",
        "cross-origin-resource-policy": "same-origin",
      });
      expect(headers["access-control-allow-origin"]).toBeUndefined();
    }
  });

  it("is shown in no frame, but for a document in a frame of the page's own, where it runs nothing", async () => {
    const server = await testServer();
    const cookie = await server.login();
    await server.ask("POST", "/api/campaigns", { cookie, body: { campaign: inventedCampaign(), why: "new" } });
    const { headers } = await server.ask("GET", "/api/campaigns/invented-fields/document?format=html", { cookie });
    const policy = String(headers["content-security-policy"]);
    expect(policy).toMatch(/frame-ancestors 'self'; base-uri 'none'; sandbox$/);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain("script-src");
    expect(headers["x-frame-options"]).toBe("SAMEORIGIN");
  });

  it("of the API is data and never kept by a browser, whatever script stands in names and notes", async () => {
    const server = await testServer();
    const cookie = await server.login();
    await server.ask("POST", "/api/campaigns", {
      cookie,
      body: { campaign: inventedCampaign(), why: "<script>alert(2)</script>" },
    });
    for (const path of ["", "/history"]) {
      const { headers, body } = await server.ask("GET", `/api/campaigns/invented-fields${path}`, { cookie });
      expect(headers["content-type"]).toBe("application/json; charset=utf-8");
      expect([headers["x-content-type-options"], headers["cache-control"]]).toEqual(["nosniff", "no-store"]);
      expect(body).toContain("<script>");
    }
  });

  it("says no more of a fault of the program than that it was one", async () => {
    const broken = new Error("the passphrase of the database is sesame");
    const server = await testServer({}, (archive) => ({
      ...archive,
      storageFaults: async () => Promise.reject(broken),
    }));
    const cookie = await server.login();
    const { statusCode, body } = await server.ask("GET", "/api/audit", { cookie });
    expect(statusCode).toBe(500);
    expect(body).not.toContain("sesame");
    expect(server.faults).toEqual([broken]);
  });
});

describe("what is too much", () => {
  it("is refused: bodies beyond their limit", async () => {
    const server = await testServer();
    const cookie = await server.login();
    const long = { id: "j.doe", passphrase: "x".repeat(300_000) };
    const answer = await server.ask("POST", "/api/login", { cookie, body: long });
    expect([answer.statusCode, answer.json<{ type: string }>().type]).toEqual([413, "urn:alcedo:problem:too-large"]);
    const file = await server.ask("POST", "/api/campaigns/import", { cookie, body: new Uint8Array((64 << 20) + 1) });
    expect(file.statusCode).toBe(413);
    expect((await server.ask("GET", "/api/me", { cookie })).statusCode).toBe(200);
  });

  it("is refused: keys that would reach the root of all objects, and what is no JSON", async () => {
    const server = await testServer();
    const cookie = await server.login();
    for (const body of ['{"__proto__":{"a":1}}', '{"constructor":{"prototype":{"a":1}}}', "{", "", "[", '"x'])
      expect([body, (await server.ask("POST", "/api/campaigns", { cookie, body })).statusCode]).toEqual([body, 400]);
    const deep = `${"[".repeat(50_000)}${"]".repeat(50_000)}`;
    expect((await server.ask("POST", "/api/campaigns", { cookie, body: deep })).statusCode).toBeGreaterThanOrEqual(400);
    expect(server.faults).toEqual([]);
  });
});

describe("paths", () => {
  it("lead nowhere but into the page's folder", async () => {
    const server = await testServer();
    for (const path of [
      "/../secret.txt",
      "/..%2fsecret.txt",
      "/%2e%2e/secret.txt",
      "/assets/..%2f..%2f..%2fsecret.txt",
      "/assets/%2e%2e/%2e%2e/secret.txt",
      "/assets/..\\..\\secret.txt",
      "/assets/....//secret.txt",
      "//etc/passwd",
      "/assets/%00",
      "/%",
    ]) {
      const { body, statusCode } = await server.ask("GET", path);
      expect([path, body.includes("secret\n"), body === "secret", body.includes("root:")]).toEqual([
        path,
        false,
        false,
        false,
      ]);
      expect([path, statusCode < 500]).toEqual([path, true]);
    }
    expect(server.faults).toEqual([]);
  });

  it("with an id that is none are refused before anything is looked up", async () => {
    const server = await testServer();
    const cookie = await server.login();
    for (const id of ["..%2f..%2fetc", "A", "%00", "a%2fb", "x".repeat(150)]) {
      const { statusCode } = await server.ask("GET", `/api/campaigns/${id}`, { cookie });
      expect([id, statusCode]).toEqual([id, 422]);
    }
  });
});
