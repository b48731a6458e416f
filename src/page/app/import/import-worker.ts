/** A planner of its own for files that are brought: what is open is not held up, and stays as it is. */
import type { FromWorker, ImportFiles, InspectFiles } from "../../worker/messages.ts";
import { startWorker } from "../start-worker.ts";

type Question = Omit<InspectFiles, "id"> | Omit<ImportFiles, "id">;

export class ImportWorker {
  readonly #worker: Promise<Worker>;
  #asked = 0;
  #give: ((answer: FromWorker) => void) | undefined;

  /** @param script deflated, in base64 */
  constructor(script: string) {
    this.#worker = startWorker(script).then((worker) => {
      worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
        if (data.id === this.#asked && data.type !== "begun") this.#give?.(data);
      };
      worker.onerror = (event) => {
        event.preventDefault();
        this.#give?.({ type: "fault", id: this.#asked, message: event.message });
      };
      return worker;
    });
  }

  /** One question at a time. */
  async ask(question: Question): Promise<FromWorker> {
    const id = ++this.#asked;
    try {
      const worker = await this.#worker;
      return await new Promise((done) => {
        this.#give = done;
        worker.postMessage({ ...question, id });
      });
    } catch (error) {
      return { type: "fault", id, message: (error as Error).message };
    }
  }

  end(): void {
    void this.#worker.then(
      (worker) => worker.terminate(),
      () => {},
    );
  }
}
