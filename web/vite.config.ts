import { defineConfig } from 'vite'

/** Builds the browser page into dist/web, where the server finds it. */
export default defineConfig({
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: 'es2022',
  },
  server: {
    proxy: {
      '/api': 'http://127.0.0.1:8080',
      '/socket.io': { target: 'http://127.0.0.1:8080', ws: true },
    },
  },
})
