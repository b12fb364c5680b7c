/// <reference types="vite/client" />

declare const CALCULATORS: string
declare const TABLES: string

/** Whether what prompts/ says is checked as it is loaded: not on a phone, which gets what the build has checked. */
declare const CHECKING: boolean
