// XML, read and written; pugixml, which this file pair alone sees. What is read is hostile until proven otherwise.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "base/result.h"

namespace pugi {
class xml_document;
struct xml_node_struct;
}  // namespace pugi

namespace gripline {

/// Bounds of what is read: a score of an hour has a tenth of each.
inline constexpr std::size_t kMostXml_bytes = 16U << 20U;
inline constexpr std::size_t kMostXmlTags = 2'000'000;
inline constexpr int kMostXmlDepth = 64;

/// An element of a document, or none. A handle: it lives as long as the document.
class XmlNode {
public:
    XmlNode() = default;
    [[nodiscard]] explicit operator bool() const noexcept { return node_ != nullptr; }
    friend bool operator==(XmlNode, XmlNode) = default;

    [[nodiscard]] std::string_view name() const;
    /// Its text, without blanks at the ends; "" of none.
    [[nodiscard]] std::string text() const;
    [[nodiscard]] bool has(const char* attribute) const;
    /// The attribute's value, "" without.
    [[nodiscard]] std::string attribute(const char* name) const;
    /// The first child element of that name (nullptr: any), or none; of none, none.
    [[nodiscard]] XmlNode child(const char* name = nullptr) const;
    /// The next element beside it of that name (nullptr: any), or none.
    [[nodiscard]] XmlNode next(const char* name = nullptr) const;

    /// Adds an element at the end, and returns it.
    XmlNode add(const char* name) const;
    XmlNode add(const char* name, const std::string& text) const;
    XmlNode add(const char* name, int number) const;
    /// Sets an attribute, and returns the element.
    XmlNode set(const char* attribute, const std::string& value) const;
    XmlNode set(const char* attribute, int value) const;

private:
    friend class XmlDocument;
    explicit XmlNode(pugi::xml_node_struct* node) : node_(node) {}
    pugi::xml_node_struct* node_ = nullptr;
};

class XmlDocument {
public:
    /// Empty, to be written: with the XML declaration, and `doctype` when it is not empty.
    explicit XmlDocument(const std::string& doctype = {});
    XmlDocument(XmlDocument&&) noexcept;
    XmlDocument& operator=(XmlDocument&&) noexcept;
    ~XmlDocument();

    /// Reads UTF-8, UTF-16 or Latin-1 as the file says. Nothing is fetched, no entity of the file's own is replaced; a file that declares any is
    /// refused, and one past the bounds above. Errors: `line 3: ...`.
    static Result<XmlDocument> parse(std::string_view bytes);
    /// The outermost element.
    [[nodiscard]] XmlNode root() const;
    /// The document itself, to add the outermost element to.
    [[nodiscard]] XmlNode top() const;
    /// As UTF-8, indented.
    [[nodiscard]] std::string text() const;

private:
    std::unique_ptr<pugi::xml_document> document_;
};

}  // namespace gripline
