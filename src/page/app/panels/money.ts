import type { Words } from "../../words/words.ts";

/** An amount in its currency, written in the reader's way. */
export function money(amount: number, currency: string, { language }: Words): string {
  return new Intl.NumberFormat(language, { style: "currency", currency }).format(amount);
}
