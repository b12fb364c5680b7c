import { defineConfig } from 'vitest/config'
import { prompts } from './prompts.config.ts'
import { versions } from './versions.config.ts'

export default defineConfig({
  plugins: [prompts(), versions()],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // As many files at once as there are processors, each process for many files: what every file loads, the questions
    // with their words and tables, is loaded once for each process and not once for each file.
    maxWorkers: '100%',
    isolate: false,
  },
})
