/** Starts a worker from the script that the page holds: nothing is fetched. */

/** @param script deflated, in base64 */
export async function startWorker(script: string): Promise<Worker> {
  const code = await inflated(script);
  return new Worker(URL.createObjectURL(new Blob([code], { type: "text/javascript" })));
}

async function inflated(base64: string): Promise<string> {
  const bytes = Uint8Array.from(atob(base64), (char) => char.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Response(stream).text();
}
