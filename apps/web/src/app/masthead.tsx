import type { ReactNode } from "react";
import { Menu } from "../look/menu.tsx";
import { hashOf, type Route } from "./route.ts";
import { logOut, useSession } from "./session.ts";
import { changeSettings, useSettings } from "./settings.ts";
import "./masthead.css";

/** What the head of a page is made of. */
export interface MastheadProps {
  readonly title: ReactNode;
  /** What stands beside the title, in second rank. */
  readonly beside?: ReactNode;
  /** Things to do on this page. */
  readonly children?: ReactNode;
  /** How it stands with what is open, in a word. */
  readonly status?: ReactNode;
  /** The pages that belong together, with the one that is open. */
  readonly leaves?: readonly { readonly route: Route; readonly name: string; readonly here: boolean }[];
}

/** The head of every page: home, what is open, what may be done, and the person. */
export function Masthead({ title, beside, children, status, leaves }: MastheadProps) {
  return (
    <header className="masthead">
      <a className="masthead-name" href={hashOf({ page: "fibres" })}>
        alcedo
      </a>
      <div className="masthead-words">
        <h1 className="masthead-title">{title}</h1>
        {beside !== undefined && <p className="masthead-beside">{beside}</p>}
      </div>
      <div className="masthead-ways">
        {children}
        <PersonMenu />
      </div>
      {leaves && (
        <div className="masthead-foot">
          <nav className="masthead-leaves" aria-label="Pages of this campaign">
            {leaves.map(({ route, name, here }) => (
              <a key={name} href={hashOf(route)} {...(here && { "aria-current": "page" as const })}>
                {name}
              </a>
            ))}
          </nav>
          {status}
        </div>
      )}
    </header>
  );
}

/** The pages of a campaign, for the head of each of them. */
export function campaignLeaves(id: string, here: "campaign" | "console" | "history" | "sign" | "report") {
  const names = { campaign: "Chain", console: "Console", history: "History", report: "Report", sign: "Sign" } as const;
  return (["campaign", "console", "history", "report", "sign"] as const).map((page) => ({
    route: { page, id },
    name: names[page],
    here: page === here,
  }));
}

/** Who works here, the other pages, and how the page looks. */
function PersonMenu() {
  const session = useSession();
  const { theme, decimal } = useSettings();
  if (session.state !== "in") return null;
  const { person } = session.me;
  const go = (route: Route) => () => {
    location.hash = hashOf(route);
  };
  return (
    <Menu
      label={person.name}
      lines={[
        { id: "fibres", name: "Fibres and campaigns", onAction: go({ page: "fibres" }) },
        { id: "learn", name: "Learn: the virtual fibre", onAction: go({ page: "learn" }) },
        { id: "people", name: "People", onAction: go({ page: "people" }) },
        ...(["system", "light", "dark"] as const)
          .filter((other) => other !== theme)
          .map((other) => ({
            id: other,
            name:
              other === "system" ? "Light or dark as the computer is" : `${other === "light" ? "Light" : "Dark"} page`,
            onAction: () => changeSettings({ theme: other }),
          })),
        {
          id: "decimal",
          name: decimal === "." ? "Write numbers with a comma: 0,61" : "Write numbers with a point: 0.61",
          onAction: () => changeSettings({ decimal: decimal === "." ? "," : "." }),
        },
        { id: "out", name: "Log out", onAction: () => void logOut() },
      ]}
    />
  );
}
