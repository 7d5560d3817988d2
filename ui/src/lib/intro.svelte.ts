const key = "suncellar introduction";

/** Whether the introduction stands on the page: on a first visit, and when it is asked for. */
class Intro {
  open = $state(localStorage.getItem(key) !== "closed");

  set(open: boolean): void {
    this.open = open;
    if (open) localStorage.removeItem(key);
    else localStorage.setItem(key, "closed");
  }
}

export const intro = new Intro();
