import { configDefaults, defineConfig } from 'vitest/config'
import { root } from './support/root.ts'
import { testsThatCannotRun } from './support/tools.ts'

const exclude = [...configDefaults.exclude, ...testsThatCannotRun()]

/** `npm test` runs the projects one after the other, `npm test -- unit FILTER` some files of one. */
export default defineConfig({
  root,
  test: {
    env: { TZ: 'Europe/London' },
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['test/**/*.test.{ts,tsx}'],
          exclude: [...exclude, 'test/journey/**', 'test/fault/**'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
          // the files share what they import: loading it anew for each took a fifth of the time
          isolate: false,
        },
      },
      {
        extends: true,
        test: {
          name: 'fault',
          // they wait more than they compute
          maxWorkers: 4,
          include: ['test/fault/**/*.test.ts'],
          exclude,
          testTimeout: 120_000,
          hookTimeout: 60_000,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'journey',
          maxWorkers: 3,
          include: ['test/journey/**/*.test.ts'],
          exclude,
          testTimeout: 60_000,
          hookTimeout: 60_000,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
})
