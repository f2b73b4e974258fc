import { useEffect, useSyncExternalStore } from "react";
import { Button } from "../look/button.tsx";
import { Decimal } from "../look/decimal.tsx";
import { Empty } from "../look/empty.tsx";
import { Sayings } from "../look/sayings.tsx";
import { CampaignPage } from "../pages/campaign/campaign-page.tsx";
import { ConsolePage } from "../pages/console/console-page.tsx";
import { FibresPage } from "../pages/fibres/fibres-page.tsx";
import { FirstPage } from "../pages/first/first-page.tsx";
import { HistoryPage } from "../pages/history/history-page.tsx";
import { KeysDialog } from "../pages/keys/keys-dialog.tsx";
import { LearnPage } from "../pages/learn/learn-page.tsx";
import { LoginPage } from "../pages/login/login-page.tsx";
import { PeoplePage } from "../pages/people/people-page.tsx";
import { ReportPage } from "../pages/report/report-page.tsx";
import { SignPage } from "../pages/sign/sign-page.tsx";
import { type Route, routeOf } from "./route.ts";
import { refreshMe, useSession } from "./session.ts";
import { show, useSettings } from "./settings.ts";
import "./workbench.css";

/** Everything that is on the page. */
export function Workbench() {
  const route = useRoute();
  const { decimal } = useSettings();
  useEffect(() => {
    show();
    void refreshMe();
  }, []);
  return (
    <Decimal value={decimal}>
      <div className="workbench">
        <Shown route={route} />
      </div>
      <Sayings />
      <KeysDialog />
    </Decimal>
  );
}

function Shown({ route }: { readonly route: Route }) {
  const session = useSession();
  if (route.page === "first") return <FirstPage token={route.token} />;
  if (session.state === "asking") return <main className="workbench-waiting" aria-busy="true" />;
  if (session.state === "unreachable")
    return (
      <main className="workbench-waiting">
        <Empty title="No answer">
          <p role="alert">{session.words}</p>
          <Button onPress={() => void refreshMe()}>Try again</Button>
        </Empty>
      </main>
    );
  if (session.state === "out") return <LoginPage />;
  switch (route.page) {
    case "campaign":
      return <CampaignPage id={route.id} />;
    case "console":
      return <ConsolePage id={route.id} />;
    case "history":
      return <HistoryPage id={route.id} />;
    case "learn":
      return <LearnPage />;
    case "people":
      return <PeoplePage />;
    case "report":
      return <ReportPage id={route.id} />;
    case "sign":
      return <SignPage id={route.id} />;
    default:
      return <FibresPage />;
  }
}

/** The page that the address names. */
function useRoute(): Route {
  const hash = useSyncExternalStore(
    (changed) => {
      window.addEventListener("hashchange", changed);
      return () => window.removeEventListener("hashchange", changed);
    },
    () => location.hash,
  );
  return routeOf(hash);
}
