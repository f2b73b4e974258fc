import { expect, it } from "vitest";
import { type Provenance, requireSameOrigin } from "./same-origin.ts";

const own: Provenance = {
  method: "POST",
  host: "127.0.0.1:4270",
  origin: "http://127.0.0.1:4270",
  site: "same-origin",
};
const fits = (given: Partial<Provenance>) => {
  try {
    requireSameOrigin({ ...own, ...given });
    return true;
  } catch {
    return false;
  }
};

it("a page of the server's own may do all, and so may a program that is no browser", () => {
  expect(fits({})).toBe(true);
  expect(fits({ origin: undefined, site: undefined })).toBe(true);
  expect(fits({ method: "GET", origin: undefined, site: "none" })).toBe(true);
  expect(fits({ origin: "HTTP://127.0.0.1:4270" })).toBe(true);
});

it("another page may do nothing", () => {
  for (const origin of ["http://127.0.0.1:8080", "http://127.0.0.1", "https://evil.example", "null", "", "file://"])
    expect([origin, fits({ origin }), fits({ origin, site: undefined })]).toEqual([origin, false, false]);
  for (const site of ["cross-site", "same-site", "none", ""])
    expect([site, fits({ site }), fits({ site, origin: undefined })]).toEqual([site, false, false]);
  expect(fits({ method: "GET", origin: undefined, site: "cross-site" })).toBe(false);
  expect(fits({ method: "GET", origin: "https://evil.example", site: undefined })).toBe(false);
});
