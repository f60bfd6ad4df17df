export function browserPlaces(platform: NodeJS.Platform, env: NodeJS.ProcessEnv): string[]
export function findBrowser(platform?: NodeJS.Platform, env?: NodeJS.ProcessEnv): string | undefined
export function ensureBrowser(): string | undefined
