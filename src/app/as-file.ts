/**
 * `Content-Disposition` of a file that is named after a job.
 *
 * @param how `attachment` to be kept, `inline` to be looked at
 * @param name the job's name; what a file's name had better not hold is left out of it
 * @param ending without the dot
 */
export function asFile(how: 'attachment' | 'inline', name: string, ending: string): string {
  const file = `${name.replaceAll(/[^\p{L}\p{N}]+/gu, '-').slice(0, 60) || 'job'}.${ending}`
  return `${how}; filename*=UTF-8''${encodeURIComponent(file)}`
}
