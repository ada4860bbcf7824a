import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

const root = fileURLToPath(new URL('..', import.meta.url))

export default defineConfig({
  root,
  resolve: { alias: { '@': root.replace(/\/$/, '') } },
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    setupFiles: ['tests/property-seed.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // What is polled may take its time on a busy machine; the usual second is a matter of chance.
    expect: { poll: { timeout: 30_000, interval: 100 } },
    maxWorkers: 2,
    // Beside what is shown: a report to count from, where one is asked for (.ci/run).
    reporters: process.env.TEST_REPORT ? ['default', 'json'] : ['default'],
    outputFile: { json: process.env.TEST_REPORT ?? '' },
  },
})
