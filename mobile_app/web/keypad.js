// The keys that a phone shows for a number. The client asks for whole numbers only ("numeric"), which on some phones
// has no decimal point; lengths need one. So a number's box asks for "decimal" instead, from the very first tap.

const plain = Element.prototype.setAttribute;

HTMLInputElement.prototype.setAttribute = function setAttribute(name, value) {
  plain.call(this, name, name === "inputmode" && value === "numeric" ? "decimal" : value);
};
