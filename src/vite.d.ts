/// <reference types="vite/client" />

declare const CALCULATORS: string
declare const TABLES: string
