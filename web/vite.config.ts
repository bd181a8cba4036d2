import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'
import { compression } from 'vite-plugin-compression2'
import { notices } from './notices.ts'
import { referenceFiles } from './reference.ts'

const root = fileURLToPath(new URL('..', import.meta.url))

/** Builds the browser page into dist/web, where the server finds it: each file also as brotli and gzip where that is smaller. */
export default defineConfig({
  plugins: [
    notices(root),
    referenceFiles(root),
    compression({
      include: /\.(?:html|css|js|svg|txt|json)$/,
      algorithms: ['brotliCompress', 'gzip'],
      logLevel: 'silent',
    }),
  ],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    // what is really in the page; tests hold notices.txt against it
    license: { fileName: '.vite/bundled.json' },
    modulePreload: { polyfill: false },
    target: 'es2022',
    rolldownOptions: { checks: { pluginTimings: false } },
  },
  server: {
    proxy: {
      '/api': 'http://127.0.0.1:8080',
      '/socket.io': { target: 'http://127.0.0.1:8080', ws: true },
    },
  },
})
