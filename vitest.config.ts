import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["src/**/*.test.ts", "src/**/*.test.tsx", "checks/**/*.test.ts", "test/**/*.test.ts"],
    testTimeout: 240_000,
    hookTimeout: 120_000,
    maxWorkers: 2,
  },
});
