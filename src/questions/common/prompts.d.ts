declare module '*.yaml' {
  const prompts: import('./words').PromptsFile
  export default prompts
}
