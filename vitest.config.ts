import { defineConfig } from 'vitest/config'
import { prompts } from './prompts.config.ts'
import { versions } from './versions.config.ts'

export default defineConfig({
  plugins: [prompts(), versions()],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // As many files at once as there are processors. Each file loads its own questions: shared ones made two files
    // fail or pass by the order in which they ran.
    maxWorkers: '100%',
    isolate: true,
  },
})
