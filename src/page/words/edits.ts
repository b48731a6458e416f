/** Words of editing, in English and in German: same keys, same placeholders. */
export const EDIT_EN = {} as const;

export const EDIT_DE: Readonly<Record<keyof typeof EDIT_EN, string>> = {};
