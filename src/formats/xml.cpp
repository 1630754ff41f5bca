#include "formats/xml.h"

#include <algorithm>
#include <pugixml.hpp>
#include <sstream>

#include "base/text.h"

namespace gripline {

namespace {

pugi::xml_node elements_only(pugi::xml_node node, const char* name) {
    while (node && (node.type() != pugi::node_element || (name && std::string_view(node.name()) != name))) node = node.next_sibling();
    return node;
}

/// "line 12: " of a place in the bytes.
std::string line_at(std::string_view bytes, std::size_t at) {
    const auto end = bytes.begin() + static_cast<std::ptrdiff_t>(std::min(at, bytes.size()));
    return "line " + std::to_string(1 + std::count(bytes.begin(), end, '\n')) + ": ";
}

/// How deep elements stand in each other at most, without recursion.
int depth_of(pugi::xml_node top) {
    int depth = 0, most = 0;
    for (pugi::xml_node node = top.first_child(); node;) {
        most = std::max(most, depth + 1);
        if (node.first_child()) {
            node = node.first_child();
            ++depth;
            continue;
        }
        while (depth > 0 && !node.next_sibling()) {
            node = node.parent();
            --depth;
        }
        node = node.next_sibling();
    }
    return most;
}

}  // namespace

std::string_view XmlNode::name() const { return pugi::xml_node(node_).name(); }

std::string XmlNode::text() const { return std::string(trimmed(pugi::xml_node(node_).text().get())); }

bool XmlNode::has(const char* attribute) const { return static_cast<bool>(pugi::xml_node(node_).attribute(attribute)); }

std::string XmlNode::attribute(const char* name) const { return pugi::xml_node(node_).attribute(name).value(); }

XmlNode XmlNode::child(const char* name) const { return XmlNode(elements_only(pugi::xml_node(node_).first_child(), name).internal_object()); }

XmlNode XmlNode::next(const char* name) const { return XmlNode(elements_only(pugi::xml_node(node_).next_sibling(), name).internal_object()); }

XmlNode XmlNode::add(const char* name) const { return XmlNode(pugi::xml_node(node_).append_child(name).internal_object()); }

XmlNode XmlNode::add(const char* name, const std::string& text) const {
    const XmlNode out = add(name);
    pugi::xml_node(out.node_).text().set(text.c_str());
    return out;
}

XmlNode XmlNode::add(const char* name, int number) const { return add(name, std::to_string(number)); }

XmlNode XmlNode::set(const char* attribute, const std::string& value) const {
    pugi::xml_node(node_).append_attribute(attribute).set_value(value.c_str());
    return *this;
}

XmlNode XmlNode::set(const char* attribute, int value) const { return set(attribute, std::to_string(value)); }

XmlDocument::XmlDocument(const std::string& doctype) : document_(std::make_unique<pugi::xml_document>()) {
    auto declaration = document_->append_child(pugi::node_declaration);
    declaration.append_attribute("version") = "1.0";
    declaration.append_attribute("encoding") = "UTF-8";
    if (!doctype.empty()) document_->append_child(pugi::node_doctype).set_value(doctype.c_str());
}
XmlDocument::XmlDocument(XmlDocument&&) noexcept = default;
XmlDocument& XmlDocument::operator=(XmlDocument&&) noexcept = default;
XmlDocument::~XmlDocument() = default;

Result<XmlDocument> XmlDocument::parse(std::string_view bytes) {
    if (trimmed(bytes).empty()) return Error{"the file is empty"};
    if (bytes.size() > kMostXml_bytes) return Error{"the file is " + std::to_string(bytes.size()) + " bytes long, at most " + std::to_string(kMostXml_bytes) + " are read"};
    if (const auto tags = std::count(bytes.begin(), bytes.end(), '<'); tags > static_cast<std::ptrdiff_t>(kMostXmlTags))
        return Error{"the file has " + std::to_string(tags) + " tags, at most " + std::to_string(kMostXmlTags) + " are read; export the chords' part alone"};
    XmlDocument out;
    const auto done = out.document_->load_buffer(bytes.data(), bytes.size(), pugi::parse_default | pugi::parse_doctype);
    if (!done) {
        const std::string what = done.status == pugi::status_no_document_element ? "no element; this is no XML" : done.description();
        return Error{line_at(bytes, static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, done.offset))) + "the XML can't be read: " + what};
    }
    for (const pugi::xml_node node : out.document_->children())
        if (node.type() == pugi::node_doctype && std::string_view(node.value()).find('[') != std::string_view::npos)
            return Error{"the file declares entities or a document type of its own, which are not read; save it without"};
    if (const int depth = depth_of(*out.document_); depth > kMostXmlDepth)
        return Error{"elements stand in each other " + std::to_string(depth) + " deep, at most " + std::to_string(kMostXmlDepth) + " are read; this is no score"};
    return out;
}

XmlNode XmlDocument::root() const { return XmlNode(document_->document_element().internal_object()); }

XmlNode XmlDocument::top() const { return XmlNode(document_->internal_object()); }

std::string XmlDocument::text() const {
    std::ostringstream out;
    document_->save(out, "  ");
    return out.str();
}

}  // namespace gripline
