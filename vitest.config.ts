import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    exclude: ['test/journey/**', 'test/fault/**', 'node_modules/**'],
    testTimeout: 20_000,
    maxWorkers: 2,
    env: { TZ: 'Europe/London' },
  },
})
