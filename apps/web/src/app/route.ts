/** A page of the workbench, as the part of the address behind `#` names it. */
export type Route =
  | { readonly page: "fibres" }
  | { readonly page: "learn" }
  | { readonly page: "people" }
  | { readonly page: "first"; readonly token: string }
  | { readonly page: "campaign" | "history" | "console" | "sign" | "report"; readonly id: string };

const UNDER_CAMPAIGN = ["history", "console", "sign", "report"] as const;

/** Reads the part of an address behind `#`; whatever it does not know leads home. */
export function routeOf(hash: string): Route {
  const [page = "", first = "", second = ""] = hash
    .replace(/^#?\/?/, "")
    .split("/")
    .map(decoded);
  if (page === "learn" || page === "people") return { page };
  if (page === "first" && first !== "") return { page, token: first };
  if (page === "campaign" && first !== "") {
    if (second === "") return { page, id: first };
    const under = UNDER_CAMPAIGN.find((name) => name === second);
    if (under) return { page: under, id: first };
  }
  return { page: "fibres" };
}

/** The address of a page: what goes into a link. */
export function hashOf(route: Route): string {
  switch (route.page) {
    case "first":
      return `#/first/${encodeURIComponent(route.token)}`;
    case "campaign":
      return `#/campaign/${encodeURIComponent(route.id)}`;
    case "history":
    case "console":
    case "sign":
    case "report":
      return `#/campaign/${encodeURIComponent(route.id)}/${route.page}`;
    default:
      return `#/${route.page}`;
  }
}

/** A part that is no percent encoding stands for itself. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch (error) {
    if (error instanceof URIError) return part;
    throw error;
  }
}
