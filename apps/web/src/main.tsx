import "./look/fonts.css";
import "./look/tokens.css";
import "./look/page.css";
import "./look/sheet.css";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { Workbench } from "./app/workbench.tsx";

createRoot(document.getElementById("page")!).render(
  <StrictMode>
    <Workbench />
  </StrictMode>,
);
