import { describe, expect, it } from "vitest";
import type * as z from "zod";
import { ROUTES, type Route } from "./routes.ts";

const routes = Object.entries<Route>(ROUTES);

describe("routes", () => {
  it("are each one method and one path, once", () => {
    const asked = routes.map(([, { method, path }]) => `${method} ${path}`);
    expect(new Set(asked).size).toBe(asked.length);
    for (const [, { path }] of routes) expect(path).toMatch(/^\/api\/[a-z.:/-]+$/);
  });

  it("say what stands in their paths", () => {
    for (const [name, { path, params }] of routes) {
      const named = [...path.matchAll(/:(\w+)/g)].map((match) => match[1]);
      expect([name, named]).toEqual([name, Object.keys(params?.shape ?? {})]);
    }
  });

  it("ask for a login but for the description, the login and the one-time link", () => {
    const open = routes.filter(([, route]) => route.open === true).map(([name]) => name);
    expect(open).toEqual(["openapi", "first", "login"]);
  });

  it("change nothing by GET: whatever takes a body is a POST", () => {
    for (const [name, { method, body }] of routes)
      if (body !== undefined) expect([name, method]).toEqual([name, "POST"]);
  });

  it("refuse what is no campaign's id, paths above all", () => {
    const params: z.ZodObject = ROUTES.campaign.params;
    for (const id of ["../secret", "a/b", "", ".hidden", "A", "a".repeat(101), "a\u0000b"]) {
      expect([id, params.safeParse({ id }).success]).toEqual([id, false]);
    }
    expect(params.safeParse({ id: "fernhill-bunker-3.cones_2" }).success).toBe(true);
  });

  it("take numbers in a query as numbers, and no other", () => {
    expect(ROUTES.campaigns.query.parse({ after: "12", words: "cones" })).toEqual({ after: 12, words: "cones" });
    for (const after of ["0", "-1", "1.5", "x", ""]) {
      expect([after, ROUTES.campaigns.query.safeParse({ after }).success]).toEqual([after, false]);
    }
    expect(ROUTES.document.query.parse({})).toEqual({ kind: "record", format: "pdf" });
    expect(ROUTES.document.query.safeParse({ kind: "../x" }).success).toBe(false);
  });
});
