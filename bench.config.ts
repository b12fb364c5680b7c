import { defineConfig } from 'vite'
import { prompts } from './prompts.config.ts'
import { versions } from './versions.config.ts'

/** The benchmarks, built like the server so that they measure what ships. */
export default defineConfig({
  plugins: [prompts(), versions()],
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist/bench',
    rollupOptions: {
      input: {
        bench: 'tests/bench/main.ts',
        'bare-server': 'tests/bench/bare-server.ts',
        'plain-server': 'tests/bench/plain-server.ts',
        'loop-watch': 'tests/bench/loop-watch.ts',
      },
    },
  },
})
