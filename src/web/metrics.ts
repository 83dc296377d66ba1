/**
 * What the app counts of itself, in the text format that Prometheus reads. Names follow OpenTelemetry's conventions
 * for HTTP servers and processes; no label holds anything of a person, a house or a crew.
 */
import { PrometheusExporter } from "@opentelemetry/exporter-prometheus";
import { MeterProvider } from "@opentelemetry/sdk-metrics";
import type { RequestHandler } from "express";
import { PRODUCT_NAME } from "../domain/product.js";

export interface AnsweredRequest {
  readonly method: string;
  /** The pattern of the route, never the address that was asked for. */
  readonly route: string;
  readonly status: number;
  readonly milliseconds: number;
}

export interface Metrics {
  countAnswer(request: AnsweredRequest): void;
  /** Answers with all figures. */
  readonly handler: RequestHandler;
}

const SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5];

/** Figures of one app, from 0. */
export function makeMetrics(): Metrics {
  const exporter = new PrometheusExporter({ preventServerStart: true, withoutTargetInfo: true });
  const meter = new MeterProvider({ readers: [exporter] }).getMeter(PRODUCT_NAME.toLowerCase());
  const durations = meter.createHistogram("http.server.request.duration", {
    description: "Time to answer a request, by route",
    unit: "s",
    advice: { explicitBucketBoundaries: SECONDS },
  });
  meter
    .createObservableGauge("process.memory.usage", {
      description: "Physical memory of the process",
      unit: "By",
    })
    .addCallback((result) => result.observe(process.memoryUsage.rss()));
  meter
    .createObservableCounter("process.cpu.time", { description: "CPU seconds of the process", unit: "s" })
    .addCallback((result) => {
      const { user, system } = process.cpuUsage();
      result.observe(user / 1e6, { mode: "user" });
      result.observe(system / 1e6, { mode: "system" });
    });
  return {
    countAnswer: ({ method, route, status, milliseconds }) => {
      durations.record(milliseconds / 1_000, {
        "http.request.method": method,
        "http.route": route,
        "http.response.status_code": status,
      });
    },
    handler: (req, res) => exporter.getMetricsRequestHandler(req, res),
  };
}
