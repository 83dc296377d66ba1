/**
 * The web app on a desk, ready to be listened to; it does not listen itself. Tests run exactly this app.
 */
import express from "express";
import { PRODUCT_NAME } from "../domain/product.js";
import type { Desk } from "../services/desk.js";
import { crewRoutes } from "./crew-routes.js";
import { errorPage, logToStandardError, notFound, type BugLog } from "./error-pages.js";
import { holdRoutes } from "./hold-routes.js";
import { officeRoutes } from "./office-routes.js";
import { paths, ROUTES } from "./paths.js";
import { sameOriginOnly, securityHeaders } from "./security.js";
import { serveFiles, VIEWS_FOLDER } from "./static-files.js";

export interface AppOptions {
  /** Where bugs go; standard error where left out. */
  readonly log?: BugLog;
}

/** The whole app. */
export function createApp(desk: Desk, options: AppOptions = {}): express.Express {
  const app = express();
  app.disable("x-powered-by");
  app.set("view engine", "ejs");
  app.set("views", VIEWS_FOLDER);
  app.enable("view cache");
  Object.assign(app.locals, { paths, productName: PRODUCT_NAME });

  app.use(securityHeaders);
  app.get(ROUTES.health, (_req, res) => {
    res.type("text/plain").send(`ok, version ${desk.current().version}\n`);
  });
  serveFiles(app);
  app.use(sameOriginOnly);
  app.use(officeRoutes(desk));
  app.use(crewRoutes(desk));
  app.use(holdRoutes(desk));
  app.use(notFound);
  app.use(errorPage(options.log ?? logToStandardError));
  return app;
}
