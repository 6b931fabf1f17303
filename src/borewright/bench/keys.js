export default {
  template: "<span></span>",
  props: { keys: Array },
  mounted() {
    this.listener = (event) => {
      const at = event.target;
      const typing = at.closest && at.closest("input, textarea, select, [contenteditable]");
      const control = event.ctrlKey || event.metaKey;
      let name = event.key.length === 1 ? event.key.toLowerCase() : event.key;
      if (event.shiftKey && (control || event.key.length > 1 || /[a-z]/i.test(event.key)))
        name = "shift+" + name;
      if (control) name = "ctrl+" + name;
      if (event.altKey || !this.keys.includes(name)) return;
      if (typing && !control) return;
      if (typing && typing.value !== typing.defaultValue && typing.type === "text") return;
      event.preventDefault();
      this.$emit("key", name);
    };
    document.addEventListener("keydown", this.listener);
  },
  beforeUnmount() {
    document.removeEventListener("keydown", this.listener);
  },
};
