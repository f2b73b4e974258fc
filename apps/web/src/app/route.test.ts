import { expect, test } from "vitest";
import { hashOf, type Route, routeOf } from "./route.ts";

const routes: readonly Route[] = [
  { page: "fibres" },
  { page: "learn" },
  { page: "people" },
  { page: "first", token: "aB-_9" },
  { page: "campaign", id: "cones-bunker-3" },
  { page: "history", id: "cones" },
  { page: "console", id: "a.b_c" },
  { page: "sign", id: "cones" },
  { page: "report", id: "cones" },
];

test.each(routes)("the address of $page leads back to it", (route) => expect(routeOf(hashOf(route))).toEqual(route));

test("a name with a stroke or a blank in it survives the address", () => {
  const route: Route = { page: "campaign", id: "a/b c%" };
  expect(hashOf(route)).toBe("#/campaign/a%2Fb%20c%25");
  expect(routeOf(hashOf(route))).toEqual(route);
});

test.each(["", "#", "#/", "#/campaign", "#/campaign/x/nowhere", "#/first/", "#/elsewhere"])(
  "%j is unknown and leads home",
  (hash) => expect(routeOf(hash)).toEqual({ page: "fibres" }),
);

test("what is no percent encoding stands for itself", () => {
  expect(routeOf("#/campaign/100%")).toEqual({ page: "campaign", id: "100%" });
});
