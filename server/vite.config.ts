import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const root = fileURLToPath(new URL('..', import.meta.url))
/** What runs in a process or thread of its own. */
const entries = [
  'server/main.ts',
  'server/page.ts',
  'server/plantReaderWorker.ts',
  'server/history/stores/embeddedWorker.ts',
  'server/trials/trialWorker.ts',
  'server/rederive/deriveWorker.ts',
  'simulator/main.ts',
]

/**
 * Builds server and simulator into dist/, one file for each source file. Of mathjs only the parser of formulas is used: built in
 * without the rest of it, each process starts half a second sooner and is 35 MB smaller.
 */
export default defineConfig({
  ssr: { noExternal: ['mathjs'] },
  build: {
    ssr: true,
    outDir: '../dist',
    emptyOutDir: false,
    copyPublicDir: false,
    sourcemap: true,
    minify: false,
    target: 'node20',
    rolldownOptions: {
      input: entries.map((entry) => `${root}${entry}`),
      output: {
        preserveModules: true,
        preserveModulesRoot: root,
        // in a folder that nobody takes for installed packages
        entryFileNames: ({ name }) => `${name.replace('node_modules', 'packages')}.js`,
      },
    },
  },
})
