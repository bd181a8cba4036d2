import { defineConfig } from 'vite'
import { compression } from 'vite-plugin-compression2'

/** Builds the browser page into dist/web, where the server finds it: each file also as brotli and gzip where that is smaller. */
export default defineConfig({
  plugins: [compression({ algorithms: ['brotliCompress', 'gzip'], logLevel: 'silent' })],
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
