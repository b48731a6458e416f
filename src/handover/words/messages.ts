import type { EN } from "./en.ts";

/** Key of one text of the catalogue. */
export type MessageKey = keyof typeof EN;

/** All texts in one language. */
export type Messages = Readonly<Record<MessageKey, string>>;
